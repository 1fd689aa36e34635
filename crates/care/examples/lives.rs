//! Holds the forecasts of mass against simulated lives and prints how they did.
//!
//! `cargo run --release -p care --example lives -- 2000`

#![expect(clippy::print_stdout, reason = "it is there to print")]

#[path = "../tests/lives/mod.rs"]
mod lives;

fn main() {
    let count = std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(2000);
    let score = lives::score(0..count);
    println!("{} simulated lives, {} answered", score.lives.0, score.lives.1);
    for (days, (all, inside, below, errors)) in lives::AHEAD_D.iter().zip(&score.ahead) {
        let n = (*all).max(1) as f64;
        let mean = errors.iter().map(|off| off.abs()).sum::<f64>() / n;
        let bias = errors.iter().sum::<f64>() / n;
        println!(
            "{days:3} days ahead: {:.1} % inside the 80 % band ({:.1} % below it), mean error {:.1} %, bias {:+.1} %",
            100.0 * *inside as f64 / n,
            100.0 * *below as f64 / n,
            100.0 * mean,
            100.0 * bias
        );
    }
    let (all, inside) = score.fed;
    println!("with meals on record: {:.1} % inside", 100.0 * inside as f64 / all.max(1) as f64);
    println!("all: {:.1} % inside the 80 % band", score.coverage_pct());
}
