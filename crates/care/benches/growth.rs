//! How long forecasts of growth take, with simulated records.
//!
//! `cargo bench -p care --bench growth`; with a number behind `--`, so many animals over ten years on all cores.

#![expect(clippy::print_stdout, reason = "it is there to print")]

use std::time::{Duration, Instant};

use records::Case;
use units::Moment;

/// Ten years of one animal, simulated: a meal every ten days, a weighing a month, readings of late.
fn ten_years(number: u64) -> (Case, Moment) {
    let mut rng = fastrand::Rng::with_seed(number);
    let kinds = ["corn_snake", "ball_python", "boa_imperator", "california_kingsnake"];
    let grown_g = [600.0, 1700.0, 4500.0, 600.0];
    let kind = rng.usize(..kinds.len());
    let (species, grown_g) = (kinds.get(kind).copied().unwrap_or(""), grown_g.get(kind).copied().unwrap_or(1.0));
    let mut text = format!(
        "at = \"2036-06-01T19:00\"\nzone = \"UTC\"\n[animal]\nspecies = \"{species}\"\nhatched = \"2026-05-20\"\n\
         [enclosure]\nlength_cm = 150\nwidth_cm = 60\n[[measurement]]\nat = \"2036-05-01\"\ntotal_length_cm = 120\n\
         [[reading]]\nat = \"2036-05-31\"\nspot = \"warm-air\"\ntemperature_c = 29\n"
    );
    let start = jiff::civil::date(2026, 6, 1);
    let on = |day: i64| start.saturating_add(jiff::Span::new().days(day));
    // A fifth of them are young ones, of which the records begin late.
    let begins = if rng.u8(..5) == 0 { 3000 } else { 0 };
    let size = |day: i64| 0.02 + 0.98 * (1.0 - (-((day - begins) as f64) / 900.0).exp());
    for n in 0..365 {
        let day = n * 10 + 3;
        if begins < day {
            let prey = 0.06 * grown_g * size(day) * (0.8 + 0.4 * rng.f64());
            let outcome = if n % 19 == 7 { "refused" } else { "taken" };
            text.push_str(&format!(
                "[[meal]]\nat = \"{}T20:00\"\nmass_g = {prey:.1}\noutcome = \"{outcome}\"\n",
                on(day)
            ));
        }
    }
    for n in 0..120 {
        let day = n * 30 + 9;
        if begins < day {
            let mass = grown_g * size(day) * (0.97 + 0.06 * rng.f64());
            text.push_str(&format!("[[weighing]]\nat = \"{}\"\nmass_g = {mass:.1}\n", on(day)));
        }
    }
    let case = records::case_file::read("ten-years.toml", text.as_bytes()).unwrap_or_else(|_| std::process::abort());
    let at = case.at.unwrap_or(Moment(0));
    (case, at)
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn main() {
    let count: u64 = std::env::args().filter_map(|arg| arg.parse().ok()).next().unwrap_or(300);
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let cases: Vec<(Case, Moment)> = (0..count).map(ten_years).collect();
    let Some((one, at)) = cases.first() else { return };
    let mut times = Vec::new();
    for _ in 0..30 {
        let began = Instant::now();
        drop(std::hint::black_box(care::assess(one, *at)));
        times.push(began.elapsed());
    }
    println!("one animal, assessed with all its forecasts: median {:?}", median(times));
    let began = Instant::now();
    let answered: usize = std::thread::scope(|scope| {
        let share = cases.len().div_ceil(threads).max(1);
        let work = |part: &[(Case, Moment)]| {
            let answers = part.iter().filter_map(|(case, at)| care::assess(case, *at).ok());
            answers.filter(|answer| !answer.forecasts.mass.is_empty()).count()
        };
        let running: Vec<_> = cases.chunks(share).map(|part| scope.spawn(move || work(part))).collect();
        running.into_iter().map(|one| one.join().unwrap_or(0)).sum()
    });
    println!(
        "{count} animals with ten years each, all forecasts, {threads} threads: {:?}, {answered} answered",
        began.elapsed()
    );
}
