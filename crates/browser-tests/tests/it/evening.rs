//! A keeper's first evening, and the evenings after it.

use thirtyfour::By;

use crate::stand::{Browser, DESK, Household, Look, PHONE, is_there};

/// Begins a household with one animal that ate long ago.
async fn with_ash(browser: &Browser, household: &Household) {
    browser.go(&household.address).await;
    browser.says(&["Who lives with you?"]).await;
    browser.fill("#f-name", "Ash").await;
    browser.fill("#f-species", "corn snake").await;
    browser.fill("#f-hatched", "2019-06").await;
    browser.fill("#f-enclosure", "A1").await;
    browser.tap_button("form.form", "Add this animal").await;
    browser.says(&["Noted: Ash, corn snake"]).await;
}

#[tokio::test]
async fn from_the_first_run_to_a_meal_in_two_taps() {
    if !is_there() {
        return;
    }
    let household = Household::empty();
    let browser = Browser::open(PHONE).await;
    with_ash(&browser, &household).await;

    browser.tap_button("#log ~ details:nth-of-type(2)", "A weight").await;
    browser.fill("#weight-mass_g", "450").await;
    browser.tap_button("details[open]", "Write the weight down").await;
    browser.says(&["Noted: Ash, weight: 450 g"]).await;

    browser.tap_button("#log ~ details:nth-of-type(1)", "A meal").await;
    browser.set("#meal-at input[type=date]", &days_ago(&browser, 20).await).await;
    browser.tap_button("details[open]", "Write the meal down").await;
    browser.says(&["Noted: Ash, meal:"]).await;

    // One tap to the rounds, one to say that it was taken.
    browser.tap("nav.main a[href='/']").await;
    browser.says(&["Offer one"]).await;
    browser.tap_button(".due", "Taken").await;
    let words = browser.says(&["Noted: Ash, meal:", "taken"]).await;
    assert!(!words.contains("Offer one"), "what was taken is not offered again: {words}");
    assert!(words.contains("Wait: no handling and no lifting out until"), "what must wait is said: {words}");

    browser.tap_button(".noted", "Undo").await;
    browser.says(&["Undone: meal.", "Offer one"]).await;

    browser.tap_button(".due", "Refused").await;
    let words = browser.says(&["Noted: Ash, meal:", "refused"]).await;
    assert!(!words.contains("no lifting out"), "a refusal leaves nothing to digest: {words}");
    browser.close().await;
}

/// A day before today, as a date field holds it.
async fn days_ago(browser: &Browser, days: u32) -> String {
    let script = format!("return new Date(Date.now() - {days} * 864e5).toISOString().slice(0, 10)");
    browser.ask(&script).await.as_str().unwrap().to_owned()
}

#[tokio::test]
async fn a_slip_is_told_at_its_field_and_a_correction_keeps_what_stood() {
    if !is_there() {
        return;
    }
    let household = Household::empty();
    let browser = Browser::open(DESK).await;
    with_ash(&browser, &household).await;
    browser.tap_button("#log ~ details:nth-of-type(2)", "A weight").await;
    browser.fill("#weight-mass_g", "heavy").await;
    browser.tap_button("details[open]", "Write the weight down").await;
    browser.says(&["Nothing was written down yet"]).await;
    assert_eq!(browser.find("#f-mass_g").await.prop("value").await.unwrap().unwrap(), "heavy");
    assert_eq!(browser.find("#f-mass_g").await.attr("aria-invalid").await.unwrap().unwrap(), "true");
    browser.tap(".summary a").await;

    browser.fill("#f-mass_g", "1 lb").await;
    browser.tap_button("form.form", "Write it down").await;
    browser.says(&["Noted: Ash, weight: 454 g"]).await;

    browser.tap("table.records tbody tr:first-child a").await;
    browser.says(&["Written down by"]).await;
    browser.tap_button("main", "Correct").await;
    browser.says(&["Why it is corrected"]).await;
    browser.fill("#f-mass_g", "450").await;
    browser.fill("#f-why", "read it wrong").await;
    browser.tap_button("form.form", "Correct it").await;
    browser.says(&["Noted: Ash, weight: 450 g", "corrected since", "read it wrong"]).await;
    browser.close().await;
}

#[tokio::test]
async fn what_is_odd_is_asked_about() {
    if !is_there() {
        return;
    }
    let household = Household::empty();
    let browser = Browser::open(PHONE).await;
    with_ash(&browser, &household).await;
    for (grams, answer) in [("450", "Noted: Ash, weight: 450 g"), ("45", "Is this right?")] {
        browser.tap_button("#log ~ details:nth-of-type(2)", "A weight").await;
        browser.fill("#weight-mass_g", grams).await;
        browser.tap_button("details[open]", "Write the weight down").await;
        browser.says(&[answer]).await;
    }
    browser.tap_button(".summary", "Yes, write it down").await;
    browser.says(&["Noted: Ash, weight: 45 g"]).await;
    browser.close().await;
}

#[tokio::test]
async fn everything_works_without_script() {
    if !is_there() {
        return;
    }
    let household = Household::made_up();
    let browser = Browser::open(Look { script: false, ..PHONE }).await;
    browser.go(&household.address).await;
    browser.tap_button(".room-head", "Water changed").await;
    browser.says(&["Noted: fresh water in"]).await;
    browser.tap_button(".noted", "Undo").await;
    browser.says(&["Undone: cleaning."]).await;
    browser.tap("nav.main a[href='/animals']").await;
    browser.says(&["in walking order"]).await;
    browser.tap(".list h2 a").await;
    browser.says(&["Everything written down"]).await;
    browser.tap_button("#log ~ details:nth-of-type(1)", "A meal").await;
    browser.tap_button("details[open]", "Write the meal down").await;
    browser.says(&["meal"]).await;
    assert!(
        browser.driver.find_all(By::Css(".noted, .summary")).await.unwrap().len() == 1,
        "it was noted, or asked about"
    );
    browser.close().await;
}

#[tokio::test]
async fn a_score_by_eye_is_noted_from_the_drawings_without_script() {
    if !is_there() {
        return;
    }
    let household = Household::empty();
    let browser = Browser::open(Look { script: false, ..PHONE }).await;
    with_ash(&browser, &household).await;
    browser.tap("a[href$='/condition']").await;
    browser.says(&["Condition of Ash", "5, ideal", "It was never weighed"]).await;
    browser.tap("a[href*='/log/weighing']").await;
    browser.fill("#f-mass_g", "450").await;
    browser.tap("details.extra > summary").await;
    browser.fill("#f-body_score", "7").await;
    browser.tap(".buttons button.main").await;
    browser
        .says(&["Noted: Ash, weight: 450 g", "It was last given a 7.", "Keep an eye on it: By eye it scored 7 of 9"])
        .await;
    browser.close().await;
}
