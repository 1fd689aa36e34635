//! How long Rounds takes for a large facility (simulated animals), and what memory it needs.
//!
//! `cargo bench -p web --bench rounds -- [ANIMALS] [YEARS]` (3000 animals and 2 years when not given). The household is
//! made once in a temporary folder; times are wall clock of this process, memory is its high-water mark.

use std::error::Error;
use std::path::Path;
use std::time::Instant;

use store::demo_scale;
use web::desk::{Access, Desk};

fn main() -> Result<(), Box<dyn Error>> {
    let numbers: Vec<u32> = std::env::args().filter_map(|argument| argument.parse().ok()).collect();
    let (animals, years) = (numbers.first().copied().unwrap_or(3_000), numbers.get(1).copied().unwrap_or(2));
    let folder = tempfile::tempdir()?;

    let started = Instant::now();
    let store = store::Store::open(folder.path(), Access::Write)?;
    let records = demo_scale::generate(&store, animals, years, 7)?;
    drop(store);
    tell(&format!("made {animals} animals with {records} records"), started);

    let started = Instant::now();
    let desk = open(folder.path())?;
    let rounds = desk.rounds(desk.now())?;
    tell("everything reckoned anew and kept", started);
    let due: usize = rounds.animals().map(|animal| animal.brief.due.len()).sum();
    say(&format!("  {} animals on the walk, {due} tasks due", rounds.animals().count()));
    drop(desk);

    let started = Instant::now();
    let desk = open(folder.path())?;
    let rounds = desk.rounds(desk.now())?;
    tell("cold: opened, and Rounds from what is kept", started);
    drop(rounds);

    let mut times: Vec<f64> = Vec::new();
    for _ in 0..20 {
        let started = Instant::now();
        let rounds = desk.rounds(desk.now())?;
        times.push(started.elapsed().as_secs_f64() * 1000.0);
        drop(rounds);
    }
    times.sort_by(f64::total_cmp);
    say(&format!("warm: Rounds from what is kept: median {:.0} ms, slowest of 20 {:.0} ms", times[10], times[19]));

    let of_one = desk.store().enclosures()?.into_iter().next().map(|row| row.id);
    let started = Instant::now();
    let known = desk.known(of_one, desk.now())?;
    tell("what a question about one enclosure is handed", started);
    say(&format!("  {} readings", known.place.map_or(0, |place| place.readings.len())));
    let started = Instant::now();
    let known = desk.known_all(None, desk.now())?;
    tell("the same with all enclosures", started);
    let readings: usize = known.all.iter().map(|place| place.readings.len()).sum();
    say(&format!("  {} enclosures, {readings} readings", known.all.len()));
    say(&format!("high-water mark of memory: {}", memory().unwrap_or_default()));
    Ok(())
}

fn open(folder: &Path) -> Result<Desk, Box<dyn Error>> {
    let zone = units::Zone::named("Europe/Lisbon");
    Ok(Desk::open(folder, Access::Write, zone)?.standing_at(demo_scale::END.plus_hours(19.0)))
}

fn tell(what: &str, since: Instant) {
    say(&format!("{what}: {:.2} s", since.elapsed().as_secs_f64()));
}

#[expect(clippy::print_stdout, reason = "a benchmark prints its figures")]
fn say(line: &str) {
    println!("{line}");
}

/// The most memory this process ever held, where the system tells it.
fn memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    Some(status.lines().find(|line| line.starts_with("VmHWM"))?.trim_start_matches("VmHWM:").trim().to_owned())
}
