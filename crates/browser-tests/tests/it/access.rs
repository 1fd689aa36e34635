//! Every page is open to everyone: checked by axe-core, light and dark, on a phone and at a desk.

use serde_json::Value;

use crate::stand::{Browser, DESK, Household, Look, PHONE, is_there};

const AXE: &str = include_str!("../../assets/axe.min.js");

const RUN: &str = "
    const done = arguments[arguments.length - 1];
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const all = { type: 'tag', values: tags };
    const seen = { type: 'rule', values: ['color-contrast', 'target-size', 'link-in-text-block'] };
    axe.run(document, { runOnly: arguments[0] ? all : seen })
        .then(found => done(found.violations.map(one => one.id + ' (' + one.help + '): '
            + one.nodes.slice(0, 3).map(node => node.html.slice(0, 160) + ' ' + (node.any[0] || node.all[0] || node.none[0] || {}).message).join(' | '))))
        .catch(error => done(['axe failed: ' + error]));";

/// Text in drawings whose size on the screen is below 12 px, and drawings that are scaled.
const SMALL: &str = "
    return [...document.querySelectorAll('svg')].filter(svg => svg.getBoundingClientRect().width > 0).flatMap(svg => {
        const scaled = Math.abs(svg.getBoundingClientRect().width - svg.width.baseVal.value) > 1;
        const small = [...svg.querySelectorAll('text')].filter(text => parseFloat(getComputedStyle(text).fontSize) < 12);
        return (scaled ? ['scaled: ' + svg.getAttribute('class')] : []).concat(small.map(text => text.textContent));
    });";

/// Opens everything that is closed, so that what is behind it is checked too.
const OPEN: &str =
    "for (const one of document.querySelectorAll('main details')) { one.removeAttribute('name'); one.open = true; }";

/// A field, and what cannot be typed into it.
const FAULT: [&str; 2] = ["#weight-mass_g", "heavy"];

/// What keeps people out of a page; with `all` by every rule, else only by those that depend on how it is looked at.
async fn violations(browser: &Browser, all: bool) -> Vec<String> {
    if browser.ask("return typeof axe").await != "object" {
        browser.driver.execute(AXE, Vec::<Value>::new()).await.unwrap();
    }
    let found = browser.driver.execute_async(RUN, vec![Value::Bool(all)]).await.unwrap();
    found.json().as_array().unwrap().iter().map(|one| one.as_str().unwrap_or_default().to_owned()).collect()
}

/// Checks a page as it stands, in every look.
async fn check(browser: &Browser, name: &str, faults: &mut Vec<String>) {
    for look in [PHONE, DESK] {
        for dark in [false, true] {
            browser.look(Look { dark, ..look }).await;
            browser.ask(OPEN).await;
            let place = format!("{name}, {} px, {}", look.width, if dark { "dark" } else { "light" });
            let all = dark == (look.width == DESK.width);
            faults.extend(violations(browser, all).await.into_iter().map(|one| format!("{place}: {one}")));
            let wide = browser.ask("return document.documentElement.scrollWidth - window.innerWidth").await;
            if wide.as_f64().unwrap() > 0.5 {
                faults.push(format!("{place}: it scrolls sideways by {wide} px"));
            }
            for small in browser.ask(SMALL).await.as_array().unwrap() {
                faults.push(format!("{place}: too small in a drawing: {small}"));
            }
        }
    }
}

async fn first_link(browser: &Browser, beginning: &str) -> String {
    let script = format!(
        "const named = new RegExp('{beginning}[0-9a-f-]{{36}}');
         return [...document.links].map(link => link.href).find(href => named.test(href))"
    );
    browser.ask(&script).await.as_str().unwrap_or_else(|| panic!("no link to {beginning}")).to_owned()
}

#[tokio::test]
async fn no_page_keeps_anyone_out() {
    if !is_there() {
        return;
    }
    let household = Household::made_up();
    let browser = Browser::open(DESK).await;
    let at = |path: &str| format!("{}{path}", household.address);
    browser.go(&at("/animals")).await;
    let animal = first_link(&browser, "/animals/").await;
    browser.go(&at("/enclosures")).await;
    let enclosure = first_link(&browser, "/enclosures/").await;
    browser.go(&animal).await;
    let record = first_link(&browser, "/records/").await;
    let pages = [
        at("/"),
        at("/?at=2020-01-01"),
        at("/ahead"),
        at("/animals"),
        at("/animals/new"),
        animal.clone(),
        format!("{animal}/feeding"),
        format!("{animal}/sheds"),
        format!("{animal}/condition"),
        format!("{animal}/log/meal"),
        format!("{animal}/log/sign"),
        format!("{animal}/readings"),
        at("/enclosures"),
        enclosure,
        at("/freezer"),
        at("/species"),
        at("/species/corn_snake"),
        at("/household"),
        record.clone(),
        format!("{record}/correct"),
        at("/no-such-page"),
    ];
    let mut faults = Vec::new();
    for page in &pages {
        browser.go(page).await;
        check(&browser, page.trim_start_matches(&household.address), &mut faults).await;
    }
    browser.go(&at("/what-if?example=slow-loss")).await;
    browser.tap_button("form.form", "Answer").await;
    browser.says(&["Bramble"]).await;
    check(&browser, "what-if with an answer", &mut faults).await;
    browser.go(&animal).await;
    browser.ask(OPEN).await;
    browser.fill(FAULT[0], FAULT[1]).await;
    browser.tap_button("form[action$='/log/weighing'] .buttons", "Write the weight down").await;
    browser.says(&["Nothing was written down yet"]).await;
    check(&browser, "a form with a fault", &mut faults).await;
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    browser.close().await;
}

#[tokio::test]
async fn the_first_page_keeps_nobody_out() {
    if !is_there() {
        return;
    }
    let household = Household::empty();
    let browser = Browser::open(PHONE).await;
    browser.go(&household.address).await;
    let mut faults = Vec::new();
    check(&browser, "the first page", &mut faults).await;
    assert!(faults.is_empty(), "{}", faults.join("\n"));

    // The check itself is awake.
    browser.ask("document.querySelector('main').insertAdjacentHTML('beforeend', '<img src=\"/favicon.ico\"><p class=\"faint\">faint</p>'); document.querySelector('.faint').style.color = '#ddd'").await;
    browser.look(PHONE).await;
    let found = violations(&browser, true).await.join(" ");
    assert!(found.contains("image-alt") && found.contains("color-contrast"), "{found}");
    browser.close().await;
}

#[tokio::test]
async fn a_strip_begins_with_today_in_view() {
    if !is_there() {
        return;
    }
    let household = Household::made_up();
    let browser = Browser::open(Look { script: false, ..PHONE }).await;
    browser.go(&format!("{}/animals", household.address)).await;
    browser.tap(".list h2 a").await;
    browser.says(&["Life strip"]).await;
    let line = browser.find(".wide.phone line.today").await;
    let rect = line.rect().await.unwrap();
    assert!(0.0 < rect.x && rect.x < 390.0, "today is at {} px", rect.x);
    browser.close().await;
}
