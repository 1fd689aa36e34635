//! Is the band of a forecast as wide as it says? Held against lives that grow otherwise than the forecasts assume.

mod lives;

/// Two thousand lives are asked by `cargo run --release -p care --example lives`; so few vary by 2 % and more.
#[test]
fn eight_of_ten_true_masses_lie_inside_the_band() {
    const LIVES: u64 = 150;
    let score = lives::score(0..LIVES);
    assert!(145 <= score.lives.1, "{} of {LIVES} lives are answered", score.lives.1);
    let inside = score.coverage_pct();
    assert!((74.0..=87.0).contains(&inside), "{inside:.1} % inside the 80 % band");
    for (days, (all, inside, below, errors)) in lives::AHEAD_D.iter().zip(&score.ahead) {
        let share = *inside as f64 / *all as f64;
        let off = errors.iter().map(|off| off.abs()).sum::<f64>() / *all as f64;
        let bias = errors.iter().sum::<f64>() / *all as f64;
        assert!((0.70..=0.92).contains(&share), "{days} days ahead {share:.2} inside");
        assert!(*below as f64 / *all as f64 <= 0.17, "{days} days ahead {below} of {all} below the band");
        assert!(off < 0.05 + 0.0006 * *days as f64, "{days} days ahead off by {off:.3}");
        assert!(bias.abs() < 0.03, "{days} days ahead biased by {bias:.3}");
    }
}
