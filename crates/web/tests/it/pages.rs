use axum::http::StatusCode;
use records::choice::Choice;

use crate::house::House;

#[tokio::test]
async fn every_page_is_there() {
    let (house, id) = House::with_ash().await;
    let enclosure = first_link(&house.get("/enclosures").await.text, "/enclosures/");
    let record = first_link(&house.get(&format!("/animals/{id}")).await.text, "/records/");
    let paths = [
        "/".to_owned(),
        "/?at=2027-03-10".to_owned(),
        "/?at=2027-03-20".to_owned(),
        "/?at=nonsense".to_owned(),
        "/?room=study".to_owned(),
        "/ahead".to_owned(),
        "/animals".to_owned(),
        "/animals?room=study&species=corn%20snake&gone=yes".to_owned(),
        "/animals/new".to_owned(),
        format!("/animals/{id}"),
        format!("/animals/{id}?span=whole&records=all"),
        format!("/animals/{id}/readings"),
        format!("/animals/{id}/feeding"),
        format!("/animals/{id}/sheds?at=2027-03-10"),
        format!("/animals/{id}/condition"),
        "/enclosures".to_owned(),
        "/enclosures/new".to_owned(),
        enclosure.clone(),
        format!("{enclosure}/log/heater"),
        format!("{enclosure}/log/reading"),
        "/freezer".to_owned(),
        "/species".to_owned(),
        "/species?q=python".to_owned(),
        "/species?q=%3Cb%3E".to_owned(),
        "/species/corn_snake".to_owned(),
        "/what-if".to_owned(),
        "/what-if/animal?example=slow-loss".to_owned(),
        "/household".to_owned(),
        "/household/log/power".to_owned(),
        record.clone(),
        format!("{record}/correct"),
        "/assets/style.css".to_owned(),
        "/assets/page.js".to_owned(),
        "/favicon.ico".to_owned(),
    ];
    for path in paths {
        let got = house.get(&path).await;
        assert_eq!(got.status, StatusCode::OK, "{path}: {}", got.words());
        assert!(!got.text.contains("style=\""), "{path} has a style that the policy blocks");
    }
    for kind in records::Kind::ALL {
        let got = house.get(&format!("/animals/{id}/log/{kind}")).await;
        let elsewhere = ["animal", "enclosure", "household", "power", "freezer-lot", "fitted"];
        let status =
            if elsewhere.contains(&kind.to_string().as_str()) { StatusCode::NOT_FOUND } else { StatusCode::OK };
        assert_eq!(got.status, status, "{kind}");
    }
}

#[tokio::test]
async fn an_animal_leads_to_its_feeding_its_sheds_and_its_condition() {
    let (house, id) = House::with_ash().await;
    let animal = house.get(&format!("/animals/{id}")).await;
    for (page, title, says) in [
        ("feeding", "Feeding of Ash", ["How warm is it?", "Schools that do not agree"]),
        ("sheds", "Sheds of Ash", ["No shed is on record", "Cannot be told"]),
        ("condition", "Condition of Ash", ["The score by eye", "an upside-down U with a flat belly"]),
    ] {
        assert!(animal.text.contains(&format!("href=\"/animals/{id}/{page}\"")), "{page} is linked");
        let got = house.get(&format!("/animals/{id}/{page}")).await;
        let words = got.words();
        assert!(words.contains(title), "{words}");
        for text in says {
            assert!(words.contains(text), "{page}: no {text}: {words}");
        }
    }
}

pub fn first_link(text: &str, beginning: &str) -> String {
    let mark = format!("href=\"{beginning}");
    let links = text.match_indices(&mark).map(|(at, _)| text[at + 6..].split('"').next().unwrap());
    let is_id =
        |link: &&str| link.trim_start_matches(beginning).chars().take(36).filter(|letter| *letter == '-').count() == 4;
    links.into_iter().find(is_id).unwrap_or_else(|| panic!("no link to {beginning}")).to_owned()
}

#[tokio::test]
async fn what_is_not_there_says_so() {
    let (house, _) = House::with_ash().await;
    let nobody = "0192c0f9-0c00-70cf-83e6-778cad54d040";
    for path in [
        "/no-such-page".to_owned(),
        format!("/animals/{nobody}"),
        "/animals/not-an-id".to_owned(),
        format!("/animals/{nobody}/log/meal"),
        format!("/animals/{nobody}/feeding"),
        format!("/enclosures/{nobody}"),
        format!("/records/{nobody}"),
        format!("/records/{nobody}/correct"),
        "/species/unicorn".to_owned(),
    ] {
        let got = house.get(&path).await;
        assert_eq!(got.status, StatusCode::NOT_FOUND, "{path}");
        assert!(got.words().contains("Nothing is here"), "{path}: {}", got.words());
    }
    assert_eq!(house.get("/assets/none.css").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn an_empty_household_begins_with_the_first_animal() {
    let house = House::empty();
    let start = house.get("/").await;
    assert!(start.words().contains("Who lives with you?"));
    assert!(start.text.contains("action=\"/animals/new\""));
    assert!(start.text.contains("<option value=\"ball python\">"), "species are offered by their common names");
    let id =
        house.add("Ash", "corn snake", &[("enclosure", "A1"), ("room", "study"), ("total_length_cm", "48in")]).await;
    let page = house.get(&format!("/animals/{id}?noted={id}")).await;
    assert!(page.words().contains("Noted: Ash, corn snake"), "{}", page.words());
    assert!(page.words().contains("1.22 m"), "48 in are 122 cm");
    assert!(page.words().contains("A1, study"));
    assert!(house.get("/").await.words().contains("Ash"));
}

#[tokio::test]
async fn a_name_is_a_name_and_no_markup() {
    let house = House::empty();
    let id = house.add("<b>Ash</b> & \"co\"", "corn snake", &[("enclosure", "<i>A1</i>")]).await;
    house.log(&id, "weighing", &[("at", "2027-03-01"), ("mass_g", "450")]).await;
    for path in ["/".to_owned(), format!("/animals/{id}"), "/animals".to_owned(), "/enclosures".to_owned()] {
        let got = house.get(&path).await;
        assert!(!got.text.contains("<b>Ash") && !got.text.contains("<i>A1"), "{path}");
        assert!(got.text.contains("&#60;b&#62;Ash") || got.text.contains("&lt;b&gt;Ash"), "{path}");
    }
}

#[tokio::test]
async fn what_if_answers_and_tells_every_fault_with_its_place() {
    let house = House::empty();
    let case =
        "at = \"2026-10-14T20:00\"\n[animal]\nspecies = \"western hognose\"\n[[shed]]\nblue_at = \"2026-10-12\"\n";
    let got = house.post("/what-if", &[("case", case), ("at", "")]).await;
    assert_eq!(got.status, StatusCode::OK);
    assert!(got.words().contains("In shed since 12 October"), "{}", got.words());
    let bad = "[animal]\nspecies = \"western hognose\"\nmass_g = 4\n[[meel]]\nat = \"2026\"\n";
    let got = house.post("/what-if", &[("case", bad), ("at", "yesterday")]).await;
    assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(got.words().contains("line 3") && got.words().contains("line 4"), "{}", got.words());
    assert!(got.text.contains("[[meel]]"), "the case comes back as typed");
    let late = house.post("/what-if", &[("case", case), ("at", "yesterday")]).await;
    assert!(late.words().contains("`yesterday` is no moment"));
}

#[tokio::test]
async fn every_judgement_can_be_asked_why() {
    let (house, id) = House::with_ash().await;
    let page = house.get(&format!("/animals/{id}")).await;
    let due = page.between("<div id=\"due\">", "<div id=\"waits\">");
    assert!(due.contains("Offer one adult mouse"), "{due}");
    assert!(due.contains("<summary>why") && due.contains("/records/") && due.contains("Source:"), "{due}");
}

#[tokio::test]
async fn how_an_animal_grows_is_asked_of_its_records() {
    let (house, id) = House::with_ash().await;
    let blank = house.get("/what-if/growth").await;
    assert!(blank.text.contains("id=\"f-animal\"") && blank.words().contains("Ash, corn snake"), "{}", blank.words());
    let nobody = house.get("/what-if/growth?ask=yes").await;
    assert_eq!(nobody.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nobody.words().contains("No animal is named"), "{}", nobody.words());
    for (at, mass) in [("2026-12-20", "380"), ("2027-01-20", "395"), ("2027-02-20", "411")] {
        house.log(&id, "weighing", &[("at", at), ("mass_g", mass)]).await;
    }
    let got = house.get(&format!("/what-if/growth?animal={id}&ration=40+g")).await;
    assert_eq!(got.status, StatusCode::OK, "{}", got.words());
    assert!(got.words().contains("Asked about Ash, corn snake"), "{}", got.words());
    assert!(got.words().contains("it is likely to weigh about"), "{}", got.words());
    assert!(got.words().contains("on 40 g of prey a week"), "{}", got.words());
}
