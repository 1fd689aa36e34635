//! A log of an enclosure on its page: chosen as a file or pasted, shown, and kept where that is ticked. It is simulated.

use axum::http::{Request, StatusCode, header};
use records::facts::{Enclosure, Heater, HeaterKind, Lid, Thermostat};

use crate::house::{Got, House, hidden};

const LOG: &str = include_str!("../fixtures/simulated_log.csv");

fn boxed() -> (House, String) {
    let desk = House::desk();
    let enclosure = Enclosure {
        name: Some("A1".into()),
        length_cm: Some(120.0),
        width_cm: Some(60.0),
        height_cm: Some(60.0),
        material: Some("PVC".into()),
        lid: Some(Lid::Solid),
        ..Enclosure::default()
    };
    let heater = Heater {
        watts: Some(80.0),
        thermostat: Some(Thermostat::OnOff),
        set_c: Some(27.5),
        night_set_c: Some(24.5),
        ..Heater::of(HeaterKind::Panel)
    };
    let id = desk.add_enclosure(enclosure, vec![heater], "Ada").unwrap();
    (House::of(desk).writing_as("Ada"), format!("/enclosures/{id}"))
}

/// Sends the form as a browser does.
async fn send(house: &House, page: &str, file: Option<&str>, fields: &[(&str, &str)]) -> Got {
    let mut body = String::new();
    for (name, value) in fields {
        body.push_str(&format!("--part\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"));
    }
    let text = file.unwrap_or_default();
    let named = if file.is_some() { "log.csv" } else { "" };
    body.push_str(&format!(
        "--part\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{named}\"\r\nContent-Type: text/csv\r\n\r\n{text}\r\n--part--\r\n"
    ));
    let request = Request::post(format!("{page}/calibrate"));
    house.ask(request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part"), body).await
}

#[tokio::test]
async fn a_log_is_read_shown_and_kept_once() {
    let (house, page) = boxed();
    assert!(house.get(&page).await.words().contains("Read a log of its temperatures"));
    let form = house.get(&format!("{page}/calibrate")).await;
    assert_eq!(form.status, StatusCode::OK);
    let id = hidden(&form.text, "id");

    let shown = send(&house, &page, Some(LOG), &[("watts", "")]).await;
    assert_eq!(shown.status, StatusCode::OK, "{}", shown.words());
    for part in ["With its 80 W always on", "What the model leaves over", "Nothing was kept", "modelled over measured"]
    {
        assert!(shown.words().contains(part), "{part}: {}", shown.words());
    }
    assert!(house.get(&page).await.words().contains("Read a log of its temperatures"), "nothing is kept unasked");

    let pasted = LOG.replace('\n', "\r\n");
    for _ in 0..2 {
        let kept = send(&house, &page, None, &[("id", &id), ("log", &pasted), ("keep", "yes")]).await;
        assert!(kept.words().contains("Kept: answers about this enclosure now rest on it."), "{}", kept.words());
    }
    let told = house.get(&page).await.words();
    assert!(told.contains("The log of 3 days until"), "{told}");
    assert!(told.contains("where its description gives") && told.contains("Read a newer log"), "{told}");
    assert_eq!(told.matches("fitted from a log").count(), 1, "a form that is sent twice is kept once: {told}");
    let asked = house.get(&format!("/what-if/warmth?enclosure={}", page.trim_start_matches("/enclosures/"))).await;
    assert!(!asked.words().contains("From the description alone"), "{}", asked.words());
}

#[tokio::test]
async fn what_cannot_be_read_comes_back_with_every_fault() {
    let (house, page) = boxed();
    for (file, log, watts, part) in [
        (None, "", "", "no log was given"),
        (Some("time,warm_c\n2025-10-20T18:00,27\n"), "", "", "no column says that it is"),
        (Some(LOG), "", "9000", "cannot be 9000"),
        (None, "time,warm_c,cool_c,room_c\nyesterday,1,2,3\n", "", "is no time"),
    ] {
        let got = send(&house, &page, file, &[("log", log), ("watts", watts), ("keep", "yes")]).await;
        assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY, "{part}");
        assert!(got.words().contains(part), "{part}: {}", got.words());
        assert!(got.text.contains(log) && got.text.contains(&format!("value=\"{watts}\"")), "it comes back as typed");
    }
    assert!(house.get(&page).await.words().contains("Read a log of its temperatures"));
    assert_eq!(house.get("/enclosures/nothing/calibrate").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn an_enclosure_that_is_changed_says_that_its_log_is_out_of_date() {
    let (house, page) = boxed();
    send(&house, &page, Some(LOG), &[("keep", "yes")]).await;
    let shown = house.get(&page).await;
    let correct = shown.text.split("id=\"build\"").nth(1).unwrap().split("href=\"").nth(1).unwrap();
    let correct = correct.split(['"', '?']).next().unwrap().to_owned();
    let fields = [
        ("name", "A1"),
        ("length_cm", "120"),
        ("width_cm", "60"),
        ("height_cm", "60"),
        ("material", "PVC"),
        ("lid", "mesh"),
    ];
    house.post(&correct, &fields).await.location();
    let told = house.get(&page).await.words();
    assert!(told.contains("Out of date: since it was logged, its lid is mesh and was solid"), "{told}");
}
