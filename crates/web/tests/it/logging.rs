use axum::http::StatusCode;
use records::facts::{Enclosure, Fitted};

use crate::house::{House, hidden, zone};
use crate::pages::first_link;

#[tokio::test]
async fn a_meal_is_written_down_in_two_taps_and_undone_in_one() {
    let (house, id) = House::with_ash().await;
    let rounds = house.get("/").await;
    assert!(rounds.words().contains("Offer one adult mouse"), "{}", rounds.words());
    let form = rounds.between(&format!("action=\"/animals/{id}/log/meal\""), "</form>");
    let record = hidden(&form, "id");
    let sent = [("id", record.as_str()), ("back", "/"), ("prey", "mouse-adult"), ("outcome", "taken")];
    let back = house.post(&format!("/animals/{id}/log/meal"), &sent).await.location();
    assert_eq!(back, format!("/?noted={record}"));
    let after = house.get(&back).await;
    assert!(after.words().contains("Noted: Ash, meal: adult mouse, taken"), "{}", after.words());
    assert!(!after.words().contains("Offer one adult mouse"));
    assert!(after.words().contains("Wait: no handling and no lifting out until"), "{}", after.words());
    assert!(after.words().contains("Written down today"));

    let act = hidden(&after.between("class=\"noted\"", "</form>"), "act");
    let back = house.post("/undo", &[("act", &act), ("back", "/")]).await.location();
    let undone = house.get(&back).await;
    assert!(undone.words().contains("Undone: meal."), "{}", undone.words());
    assert!(undone.words().contains("Offer one adult mouse"));
    house.post("/redo", &[("back", "/")]).await.location();
    assert!(!house.get("/").await.words().contains("Offer one adult mouse"));
}

#[tokio::test]
async fn the_same_form_sent_twice_is_written_down_once() {
    let (house, id) = House::with_ash().await;
    let form = house.get("/").await.between(&format!("action=\"/animals/{id}/log/meal\""), "</form>");
    let record = hidden(&form, "id");
    for outcome in ["refused", "refused", "taken"] {
        let sent = [("id", record.as_str()), ("back", "/"), ("outcome", outcome)];
        let got = house.post(&format!("/animals/{id}/log/meal"), &sent).await;
        assert_eq!(got.location(), format!("/?noted={record}"));
    }
    let page = house.get(&format!("/animals/{id}")).await;
    let records = page.between("id=\"records\"", "</section>");
    assert_eq!(records.matches("refused").count(), 1, "{records}");
}

#[tokio::test]
async fn a_form_comes_back_as_typed_with_every_fault_at_its_field() {
    let (house, id) = House::with_ash().await;
    let sent =
        [("at", ""), ("mass_g", "heavy"), ("count", "two"), ("outcome", ""), ("prey", "mouse-adult"), ("back", "/")];
    let got = house.post(&format!("/animals/{id}/log/meal"), &sent).await;
    assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(got.text.contains("value=\"heavy\"") && got.text.contains("value=\"two\""));
    assert!(got.text.contains("<option value=\"mouse-adult\" selected>"));
    for field in ["at", "mass_g", "count", "outcome"] {
        assert!(got.text.contains(&format!("href=\"#f-{field}\"")), "the summary leads to {field}");
        assert!(got.text.contains(&format!("id=\"f-{field}-fault\"")), "{field} says what is wrong");
    }
    assert!(got.words().contains("4 things are to be mended"));
    let page = house.get(&format!("/animals/{id}")).await;
    assert!(!page.between("id=\"records\"", "</section>").contains("heavy"));
}

#[tokio::test]
async fn what_lies_ahead_is_refused_at_its_field() {
    let (house, id) = House::with_ash().await;
    let got = house.post(&format!("/animals/{id}/log/weighing"), &[("at", "2027-03-20"), ("mass_g", "455")]).await;
    assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(got.text.contains("id=\"f-at-fault\""), "{}", got.words());
}

#[tokio::test]
async fn what_is_odd_is_asked_about_and_kept_after_a_yes() {
    let (house, id) = House::with_ash().await;
    let address = format!("/animals/{id}/log/weighing");
    let asked = house.post(&address, &[("at", "2027-03-14"), ("mass_g", "45")]).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(asked.words().contains("Is this right?") && asked.text.contains("name=\"confirmed\""), "{}", asked.words());
    assert!(asked.text.contains("value=\"45\""));
    let kept = house.post(&address, &[("at", "2027-03-14"), ("mass_g", "45"), ("confirmed", "yes")]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn another_unit_is_taken_with_its_sign_and_never_guessed() {
    let (house, id) = House::with_ash().await;
    house.log(&id, "weighing", &[("at", "2027-03-14"), ("mass_g", "1 lb")]).await;
    assert!(house.get(&format!("/animals/{id}")).await.words().contains("454 g"));
    let form = house.get(&format!("/animals/{id}/readings")).await;
    let action = form.attribute("action=\"/enclosures/");
    let fahrenheit = [("temperature_c.warm-surface", "88"), ("at", "2027-03-14"), ("at_time", "19:00")];
    let asked = house.post(&action, &fahrenheit).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY, "88 in the warm spot is asked about");
    assert!(asked.words().contains("Is this right?"), "{}", asked.words());
    let signed = [
        ("temperature_c.warm-surface", "88F"),
        ("temperature_c.cool-air", "23.5"),
        ("humidity_pct.cool-air", "48"),
        ("at", "2027-03-14"),
    ];
    let kept = house.post(&action, &signed).await;
    let page = house.get(&kept.location()).await;
    assert!(page.words().contains("Noted: two readings."), "{}", page.words());
    assert!(page.words().contains("31.1 °C"), "{}", page.words());
    let bad = house.post(&action, &[("temperature_c.hide", "hot"), ("at", "2027-03-14")]).await;
    assert!(bad.text.contains("href=\"#t-hide\"") && bad.text.contains("value=\"hot\""), "{}", bad.words());
    let nothing = house.post(&action, &[("at", "2027-03-14")]).await;
    assert!(nothing.words().contains("Nothing was typed yet"), "{}", nothing.words());
}

#[tokio::test]
async fn a_correction_keeps_what_stood_before() {
    let (house, id) = House::with_ash().await;
    let page = house.get(&format!("/animals/{id}")).await;
    let row = page.between("<b>Weight</b> 450", "</tr>");
    assert!(!row.is_empty());
    let before = &page.text[..page.text.find("<b>Weight</b> 450").unwrap()];
    let record = before[before.rfind("href=\"/records/").unwrap() + 6..].split('"').next().unwrap().to_owned();
    let form = house.get(&format!("{record}/correct")).await;
    assert!(form.text.contains("value=\"450\"") && form.text.contains("value=\"2027-03-01\""));
    let sent = [("at", "2027-03-01"), ("mass_g", "440"), ("why", "read it wrong")];
    let location = house.post(&format!("{record}/correct"), &sent).await.location();
    let after = house.get(&location).await;
    assert!(after.words().contains("Noted: Ash, weight: 440 g"), "{}", after.words());
    let records = after.between("id=\"records\"", "</section>");
    assert!(records.contains("corrected since") && records.contains("read it wrong"), "{records}");
    assert!(house.get(&record).await.words().contains("In its place stands a newer record"));
}

#[tokio::test]
async fn what_is_removed_stays_in_the_history_and_comes_back() {
    let (house, id) = House::with_ash().await;
    let house = house.writing_as("Maria Inês");
    let page = house.get(&format!("/animals/{id}")).await;
    let before = &page.text[..page.text.find("<b>Meal</b>").unwrap()];
    let record = before[before.rfind("href=\"/records/").unwrap() + 6..].split('"').next().unwrap().to_owned();
    let back = format!("/animals/{id}");
    let location =
        house.post(&format!("{record}/remove"), &[("why", "another animal"), ("back", &back)]).await.location();
    let after = house.get(&location).await;
    assert!(after.words().contains("Removed: Ash, meal"), "{}", after.words());
    assert!(after.words().contains("removed today by Maria Inês: another animal"), "{}", after.words());
    let act = hidden(&after.between("class=\"noted\"", "</form>"), "act");
    house.post("/undo", &[("act", &act), ("back", &back)]).await.location();
    assert!(!house.get(&back).await.words().contains("another animal"));
}

#[tokio::test]
async fn the_writer_is_remembered_and_stands_in_the_record() {
    let (house, id) = House::with_ash().await;
    let got = house.post("/household/writer", &[("writer", "Maria Inês")]).await;
    let cookie = got.headers["set-cookie"].to_str().unwrap().to_owned();
    assert!(
        cookie.starts_with("writer=Maria%20In%C3%AAs;")
            && cookie.contains("HttpOnly")
            && cookie.contains("SameSite=Lax")
    );
    let house = house.writing_as("Maria Inês");
    house.log(&id, "note", &[("text", "calm"), ("at", "2027-03-14")]).await;
    let page = house.get(&format!("/animals/{id}")).await;
    assert!(
        page.words().contains("by Maria Inês today") && page.words().contains("Writing as Maria Inês."),
        "{}",
        page.words()
    );
}

#[tokio::test]
async fn what_is_written_down_on_another_day_is_dated_to_it() {
    let (house, id) = House::with_ash().await;
    let rounds = house.get("/?at=2027-03-12").await;
    assert!(rounds.words().contains("Friday 12 March") && rounds.words().contains("dated to it"), "{}", rounds.words());
    let form = rounds.between(&format!("action=\"/animals/{id}/log/meal\""), "</form>");
    assert_eq!(hidden(&form, "at"), "2027-03-12");
    let ahead = house.get("/?at=2027-03-20").await;
    assert!(!ahead.text.contains(&format!("action=\"/animals/{id}/log/meal\"")), "nothing is done in advance");
}

#[tokio::test]
async fn a_chore_of_a_whole_room_is_one_act() {
    let house = House::empty();
    for (name, door) in [("Ash", "A1"), ("Fern", "A2"), ("Moss", "A3")] {
        let id = house.add(name, "corn snake", &[("enclosure", door), ("room", "study")]).await;
        house.log(&id, "cleaning", &[("task", "water"), ("at", "2027-03-12")]).await;
    }
    let rounds = house.get("/").await;
    assert!(rounds.words().contains("Water changed everywhere"), "{}", rounds.words());
    let form = rounds.between("action=\"/rounds/chore\"", "</form>");
    let (ids, places) = (hidden(&form, "ids"), hidden(&form, "places"));
    let sent = [("task", "water"), ("ids", ids.as_str()), ("places", places.as_str()), ("back", "/")];
    let after = house.get(&house.post("/rounds/chore", &sent).await.location()).await;
    assert!(after.words().contains("Noted: fresh water in three places."), "{}", after.words());
    assert!(!after.words().contains("Water changed everywhere"));
    let act = hidden(&after.between("class=\"noted\"", "</form>"), "act");
    house.post("/undo", &[("act", &act), ("back", "/")]).await.location();
    assert!(house.get("/").await.words().contains("Water changed everywhere"));
}

#[tokio::test]
async fn a_shed_is_looked_at_in_one_tap() {
    let (house, id) = House::with_ash().await;
    house.log(&id, "shed", &[("shed_at", "2027-03-13")]).await;
    let rounds = house.get("/").await;
    assert!(rounds.words().contains("Look at the shed"), "{}", rounds.words());
    let location = house.post(&format!("/animals/{id}/came-off"), &[("pieces", "1"), ("back", "/")]).await.location();
    let after = house.get(&location).await;
    assert!(after.words().contains("in one piece") && !after.words().contains("Look at the shed"), "{}", after.words());
}

#[tokio::test]
async fn a_course_is_given_by_its_name() {
    let (house, id) = House::with_ash().await;
    let course = [
        ("name", "eye ointment"),
        ("from", "2027-03-14"),
        ("from_time", "08:00"),
        ("every_hours", "24"),
        ("doses", "5"),
    ];
    house.log(&id, "treatment", &course).await;
    let rounds = house.get("/").await;
    assert!(rounds.words().contains("Give eye ointment"), "{}", rounds.words());
    let form = rounds.between(&format!("action=\"/animals/{id}/log/dose\""), "</form>");
    assert!(form.contains("name=\"treatment\" value=\"eye ointment\""), "{form}");
    house.log(&id, "dose", &[("treatment", "eye ointment"), ("back", "/")]).await;
    assert!(!house.get("/").await.words().contains("Give eye ointment"));
}

#[tokio::test]
async fn frozen_prey_is_put_in_and_counted() {
    let (house, _) = House::with_ash().await;
    let sent =
        [("class", "mouse-adult"), ("count", "12"), ("mass_g", "25"), ("bought", "2027-03-01"), ("back", "/freezer")];
    let location = house.post("/household/log/freezer-lot", &sent).await.location();
    let page = house.get(&location).await;
    assert!(
        page.words().contains("Noted: frozen prey: 12 adult mice") && page.words().contains("12 in the freezer"),
        "{}",
        page.words()
    );
    let form = page.between("action=\"/records/", "</form>");
    let record = form.trim_start_matches("action=\"").split('"').next().unwrap().to_owned();
    let counted =
        [("class", "mouse-adult"), ("count", "7"), ("mass_g", "25"), ("bought", "2027-03-01"), ("back", "/freezer")];
    let location = house.post(&record, &counted).await.location();
    assert!(house.get(&location).await.words().contains("7 in the freezer"));
}

#[tokio::test]
async fn the_household_says_what_holds_for_everyone() {
    let (house, _) = House::with_ash().await;
    let sent = [("young_children", "true"), ("region", "Portugal"), ("back", "/household")];
    let page = house.get(&house.post("/household/log/household", &sent).await.location()).await;
    assert!(page.text.contains("value=\"Portugal\""));
    let cut = [("from", "2027-03-14"), ("from_time", "18:00"), ("back", "/household")];
    house.post("/household/log/power", &cut).await.location();
    assert!(house.get("/").await.words().contains("power"), "{}", house.get("/").await.words());

    let page = house.get("/household").await;
    assert!(page.words().contains("Out since today 18:00 Back now"), "{}", page.words());
    let form = page.between("class=\"due\"", "</form>");
    let action = form.split("action=\"").nth(1).unwrap().split('"').next().unwrap().to_owned();
    let back = [("from", hidden(&form, "from")), ("until", hidden(&form, "until")), ("back", "/household".to_owned())];
    let back: Vec<(&str, &str)> = back.iter().map(|(key, value)| (*key, value.as_str())).collect();
    let page = house.get(&house.post(&action, &back).await.location()).await;
    assert!(page.words().contains("back today 19:30") && !page.words().contains("Back now"), "{}", page.words());
}

#[tokio::test]
async fn another_zone_holds_from_the_next_start_on() {
    let house = House::empty();
    let page = house.get(&house.post("/household/zone", &[("zone", "Asia/Tokyo")]).await.location()).await;
    assert!(page.words().contains("Europe/Lisbon Asia/Tokyo from the next start on"), "{}", page.words());
    let wrong = house.get(&house.post("/household/zone", &[("zone", "Mars/North")]).await.location()).await;
    assert!(wrong.words().contains("`Mars/North` is no zone"), "{}", wrong.words());
}

#[tokio::test]
async fn walls_and_lid_are_asked_behind_more_and_shown_with_the_enclosure() {
    let (house, _) = House::with_ash().await;
    let enclosure = first_link(&house.get("/enclosures").await.text, "/enclosures/");
    let page = house.get(&enclosure).await;
    let correct = first_link(&page.between("class=\"button\" href=\"/records/", "Correct</a>"), "/records/");
    let form = house.get(&correct).await;
    let more = form.between("<details class=\"extra\"", "</details>");
    for key in ["thickness_mm", "lid_covered_pct", "stands_on", "substrate_cm", "bowl_cm"] {
        assert!(more.contains(&format!("name=\"{key}\"")), "{key} is behind «more»");
    }
    let record = correct.split('?').next().unwrap();
    let typed = [
        ("name", "A1"),
        ("room", "study"),
        ("thickness_mm", "0.4 cm"),
        ("lid_covered_pct", "60"),
        ("stands_on", "foam"),
        ("substrate_cm", "5"),
        ("bowl_cm", "7in"),
    ];
    house.post(record, &typed).await.location();
    let shown = house.get(&enclosure).await.words();
    for words in ["Walls 4 mm", "Lid covered 60 %", "Stands on foam", "Substrate 5 cm deep", "Water bowl 17.8 cm wide"]
    {
        assert!(shown.contains(words), "{words} in {shown}");
    }
    let refused = house.post(record, &[("name", "A1"), ("thickness_mm", "4000")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("id=\"f-thickness_mm-fault\""), "{}", refused.words());
}

#[tokio::test]
async fn what_a_log_said_is_shown_and_taken_back_but_never_typed() {
    let desk = House::desk();
    let at = |text: &str| zone().read(text).unwrap();
    let box_one = Enclosure { name: Some("A1".into()), ..Enclosure::default() };
    let enclosure = desk.add_enclosure(box_one, Vec::new(), "Ada").unwrap();
    let log = Fitted {
        at: at("2027-03-08T12:00"),
        from: at("2027-03-01T12:00"),
        warm_to_room_w_k: 0.712_345_6,
        warm_to_room_w_k_sd_pct: 6.0,
        cool_to_room_w_k: 0.6,
        cool_to_room_w_k_sd_pct: 7.0,
        warm_to_cool_w_k: 1.9,
        warm_to_cool_w_k_sd_pct: 12.0,
        warm_kj_k: 14.0,
        warm_kj_k_sd_pct: 9.0,
        cool_kj_k: 11.5,
        cool_kj_k_sd_pct: 10.0,
        heater_share: 0.8,
        heater_share_sd_pct: 0.0,
        watts: 40.0,
        rms_k: 0.21,
        log_rows: 2_016,
    };
    let record = desk.keep_fitted(enclosure, log, "Ada").unwrap();
    let house = House::of(desk);
    let page = house.get(&format!("/enclosures/{enclosure}")).await;
    assert!(page.words().contains("fitted from a log of 1 to 8 March, 2016 rows"), "{}", page.words());
    let shown = house.get(&format!("/records/{record}")).await;
    assert!(shown.words().contains("From the warm half to the room, W/K 0.712"), "{}", shown.words());
    assert!(!shown.text.contains("/correct"), "nobody puts it right by hand");
    let form = format!("/enclosures/{enclosure}/log/fitted");
    assert_eq!(house.get(&form).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.post(&form, &[("watts", "40")]).await.status, StatusCode::NOT_FOUND);
    let correct = format!("/records/{record}/correct");
    assert_eq!(house.get(&correct).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.post(&correct, &[("watts", "50")]).await.status, StatusCode::NOT_FOUND);
    house.post(&format!("/records/{record}/remove"), &[("why", "the probe had fallen")]).await.location();
    let page = house.get(&format!("/enclosures/{enclosure}")).await;
    assert!(page.words().contains("the probe had fallen"), "{}", page.words());
}
