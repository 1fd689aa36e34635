//! How long an assessment takes: one animal with ten years of records (simulated), all in memory.
//!
//! `cargo bench -p care`

use records::Case;
use units::Moment;

fn main() {
    divan::main();
}

/// Ten years of one corn snake, simulated: a meal every ten days, a weighing a month, a shed every two months, water
/// every day of the last two years, a reading a day.
fn ten_years() -> (Case, Moment) {
    let mut text = String::from(
        "at = \"2036-06-01T19:00\"\nzone = \"Europe/Lisbon\"\n[animal]\nspecies = \"corn_snake\"\nsex = \"female\"\nhatched = \"2026-05-20\"\n\
         [enclosure]\nlength_cm = 150\nwidth_cm = 60\nheight_cm = 60\nlid = \"solid\"\nhides = 2\nlocks = true\n\
         [[heater]]\nkind = \"panel\"\nwatts = 80\nthermostat = \"pulse\"\nset_c = 29\nguarded = true\nprobe = \"warm-air\"\n",
    );
    let start: jiff::civil::Date = jiff::civil::date(2026, 6, 1);
    let on = |day: i64| start.saturating_add(jiff::Span::new().days(day));
    for n in 0..365 {
        let day = n * 10 + 3;
        let mass = 2.0 + 28.0 * (1.0 - (-(day as f64) / 900.0).exp());
        let outcome = if n % 19 == 7 { "refused" } else { "taken" };
        text.push_str(&format!(
            "[[meal]]\nat = \"{}T20:00\"\nmass_g = {mass:.1}\noutcome = \"{outcome}\"\nstate = \"frozen-thawed\"\n",
            on(day)
        ));
    }
    for n in 0..120 {
        let day = n * 30 + 9;
        let mass = 8.0 + 500.0 * (1.0 - (-(day as f64) / 900.0).exp());
        text.push_str(&format!("[[weighing]]\nat = \"{}\"\nmass_g = {mass:.1}\n", on(day)));
    }
    for n in 0..60 {
        let day = n * 60 + 20;
        text.push_str(&format!("[[shed]]\nblue_at = \"{}\"\nshed_at = \"{}\"\npieces = 1\n", on(day), on(day + 9)));
    }
    for day in 2_922..3_652 {
        text.push_str(&format!("[[cleaning]]\nat = \"{0}T08:00\"\ntask = \"water\"\n[[reading]]\nat = \"{0}T14:00\"\nspot = \"warm-air\"\ntemperature_c = 28.6\nperiod = \"day\"\n", on(day)));
        text.push_str(&format!("[[reading]]\nat = \"{0}T14:00\"\nspot = \"cool-air\"\ntemperature_c = 24.2\nhumidity_pct = 51\nperiod = \"day\"\n", on(day)));
    }
    let case = records::case_file::read("ten-years.toml", text.as_bytes()).unwrap_or_else(|_| std::process::abort());
    let at = case.at.unwrap_or(Moment(0));
    (case, at)
}

#[divan::bench]
fn one_animal_with_ten_years_of_records(bencher: divan::Bencher) {
    let (case, at) = ten_years();
    bencher.bench_local(|| care::assess(divan::black_box(&case), divan::black_box(at)));
}

/// What Rounds asks of each: no forecast of growth.
#[divan::bench]
fn the_same_animal_for_the_rounds(bencher: divan::Bencher) {
    let (case, at) = ten_years();
    bencher.bench_local(|| care::assess_for_rounds(divan::black_box(&case), divan::black_box(at)));
}

/// The question about thawing, asked a day ahead so that the night in the refrigerator is followed too.
#[divan::bench(args = ["1 mouse-adult", "2 mouse-adult, 1 rat-large, 3 mouse-pinky"])]
fn a_feeding_evening(bencher: divan::Bencher, prey: &str) {
    use care::what_if::{Known, Question};
    let pairs = vec![
        ("prey".to_owned(), records::Raw::Text(prey.to_owned())),
        ("feed_at".to_owned(), records::Raw::Text("2026-03-16T20:00".to_owned())),
    ];
    let typed = records::fields::Given { pairs, origin: "the bench".into() };
    let zone = units::Zone::none();
    let now = zone.read("2026-03-14T16:00").map_or(Moment(0), |when| when.from);
    let known = Known::nothing(now, zone);
    bencher.bench_local(|| Question::Thaw.ask(divan::black_box(&typed), divan::black_box(&known)));
}

/// What Rounds asks: the same evening without its spread.
#[divan::bench]
fn the_timetable_of_a_walk(bencher: divan::Bencher) {
    use care::thaw::{Assumed, Lot, When, timetable};
    use records::facts::Prey;
    let lots: Vec<Lot> = [Prey::MouseAdult, Prey::MousePinky, Prey::RatPup, Prey::RatSmall]
        .into_iter()
        .filter_map(|class| Lot::of_class(class, 5))
        .collect();
    let zone = units::Zone::none();
    let moment = |text: &str| zone.read(text).map_or(Moment(0), |when| when.from);
    let when = When { now: moment("2026-03-14T06:00"), feed_at: moment("2026-03-14T20:00"), zone: &zone };
    bencher.bench_local(|| timetable(divan::black_box(&lots), &when, &Assumed::usual()));
}
