//! Lives of snakes that never were, to hold forecasts against: simulated, and marked so.
//!
//! They grow otherwise than the forecasts assume: along logistic, von Bertalanffy and Richards curves, faster and slower
//! with the season, a regime of feeding that changes every few months and appetite from week to week; with weeks
//! without a meal, and weighings that are noisy, irregular, sometimes a slip of the scale, sometimes with a meal inside.
//! Half of the keepers write down what they feed, and there growth comes of what was eaten with an efficiency of its own
//! for each animal, not by the energy budget of the forecasts.

use fastrand::Rng;

/// Days ahead at which a life is held against its forecast.
pub const AHEAD_D: [i64; 4] = [30, 60, 90, 180];

/// A life up to a day, and what it weighed later.
pub struct Life {
    /// The case on that day, as a keeper would write it.
    pub case: String,
    /// Weighed so many days later, in g, gut empty.
    pub later: Vec<(i64, f64)>,
    /// Does the keeper write down what it eats?
    pub is_fed_on_record: bool,
}

/// Species by profile key, with what adults and newborns weigh, in g, and how many years it takes to 90 % of the adult.
const KINDS: [(&str, f64, f64, f64); 7] = [
    ("corn_snake", 600.0, 7.0, 3.0),
    ("ball_python", 1600.0, 65.0, 4.5),
    ("boa_imperator", 4500.0, 55.0, 5.0),
    ("california_kingsnake", 550.0, 8.0, 3.0),
    ("western_hognose", 220.0, 6.0, 3.0),
    ("kenyan_sand_boa", 380.0, 9.0, 4.0),
    ("Morelia bredli", 4000.0, 30.0, 4.5),
];

fn normal(rng: &mut Rng) -> f64 {
    // Box and Muller 1958; the logarithm is never taken of zero.
    (-2.0 * (1.0 - rng.f64()).ln()).sqrt() * (std::f64::consts::TAU * rng.f64()).cos()
}

/// A curve of size against time, as relative growth at a share of the asymptote: k (1 − xⁿ)/n, which is Richards; n 1 is
/// logistic, n −1/3 von Bertalanffy's.
struct Curve {
    rate_per_day: f64,
    shape: f64,
}

impl Curve {
    fn growth(&self, share: f64) -> f64 {
        (self.rate_per_day * (1.0 - share.powf(self.shape)) / self.shape).max(0.0)
    }

    /// One that takes `days` from one share of the asymptote to 90 %.
    fn taking(days: f64, from: f64, shape: f64) -> Curve {
        let one = Curve { rate_per_day: 1.0, shape };
        let (mut log, mut took) = (from.ln(), 0.0);
        while log < 0.9f64.ln() {
            took += 0.01 / one.growth(log.exp());
            log += 0.01;
        }
        Curve { rate_per_day: took / days, shape }
    }
}

/// The life of that number.
pub fn life(number: u64) -> Life {
    let mut rng = Rng::with_seed(number.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5bd1_e995);
    let rng = &mut rng;
    let (species, usual_g, born_g, usual_years) = KINDS[rng.usize(..KINDS.len())];
    let adult_g = usual_g * (0.30 * normal(rng)).exp();
    let born_g = born_g * (0.15 * normal(rng)).exp();
    let years = usual_years * (0.35 * normal(rng)).exp();
    let shape = match rng.u8(..3) {
        0 => 1.0,
        1 => -1.0 / 3.0,
        _ => [0.3, 0.6, 1.5, -0.6][rng.usize(..4)],
    };
    let curve = Curve::taking(365.0 * years, born_g / adult_g, shape);
    // How long it has been weighed, and from which age on.
    let first_day = rng.i64(20..1100);
    let now = first_day + rng.i64(60..600);
    let last = now + AHEAD_D[AHEAD_D.len() - 1];
    let season = rng.f64() * 0.5;
    let season_at = rng.f64() * 365.0;
    let is_fed_on_record = rng.bool();
    let gap_d = rng.i64(6..15);
    let (mut regime, mut regime_until) = (0.20 * normal(rng), rng.i64(60..240));
    let (mut appetite, mut fast_until) = (0.0, 0);
    let mut mass = born_g;
    let mut daily = Vec::with_capacity(usize::try_from(last).unwrap_or(0) + 1);
    let mut ate = Vec::new();
    let wants_meals = (0.32 + 0.05 * normal(rng)).clamp(0.18, 0.5);
    let upkeep = 0.0030 * (0.2 * normal(rng)).exp();
    let mut since_meal = 0.0;
    for day in 0..=last {
        if regime_until <= day {
            (regime, regime_until) = (0.5 * regime + 0.20 * normal(rng), day + rng.i64(60..240));
        }
        appetite = 0.93 * appetite + 0.10 * normal(rng);
        if rng.f64() < 1.0 / 500.0 {
            fast_until = day + rng.i64(20..80);
        }
        let cycle = 1.0 + season * (std::f64::consts::TAU * (day as f64 - season_at) / 365.0).cos();
        let grows = curve.growth((mass / adult_g).min(0.999));
        let wants = if day < fast_until { 0.0 } else { (cycle * (regime + appetite).exp()).max(0.0) };
        let upkeep_g = upkeep * mass.powf(0.78) * 4.0;
        // A fasting one lives on its body, a growing one grows with what it wants.
        let gain_g =
            if wants == 0.0 { -0.25 * upkeep_g } else { grows * mass * wants + 0.1 * upkeep_g * (wants - 1.0) };
        mass += gain_g;
        // What had to be eaten for that, gathered until the next meal.
        since_meal += if wants == 0.0 { 0.0 } else { (gain_g / wants_meals + upkeep_g).max(0.0) };
        if day % gap_d == 0 && wants > 0.0 && 0.0 < since_meal {
            ate.push((day, since_meal));
            since_meal = 0.0;
        }
        daily.push(mass);
    }
    let noise = 0.015 + 0.025 * rng.f64();
    let on = |day: i64| daily[usize::try_from(day).unwrap_or(0)];
    let mut text = String::from("# simulated\n");
    let start = jiff::civil::date(2020, 3, 1);
    let date = |day: i64| start.saturating_add(jiff::Span::new().days(day));
    text.push_str(&format!("at = \"{}T20:00\"\nzone = \"UTC\"\n[animal]\nspecies = \"{species}\"\n", date(now)));
    if species.contains(' ') {
        text.push_str("family = \"Pythonidae\"\n");
    }
    text.push_str(&format!("hatched = \"{}\"\n", date(0)));
    let every = rng.i64(10..50);
    let mut day = first_day;
    let mut weighed = Vec::new();
    while day <= now {
        weighed.push(day);
        day += (every as f64 * (0.4 * normal(rng)).exp()).round().max(3.0) as i64;
    }
    for day in &weighed {
        let inside = ate.iter().rev().find(|(on, _)| on < day).map_or(0.0, |(on, prey)| {
            let days = 6.0;
            if is_fed_on_record { prey * (1.0 - (day - on) as f64 / days).max(0.0) } else { 0.0 }
        });
        let slip = match rng.f64() {
            at if at < 0.015 => 1.25,
            at if at < 0.03 => 0.8,
            _ => 1.0,
        };
        let read = (on(*day) * (noise * normal(rng)).exp() + inside) * slip;
        text.push_str(&format!("[[weighing]]\nat = \"{}\"\nmass_g = {read:.1}\n", date(*day)));
    }
    if is_fed_on_record {
        for (on, prey) in ate.iter().filter(|(on, _)| now - 420 < *on && first_day - 60 < *on && *on < now) {
            text.push_str(&format!(
                "[[meal]]\nat = \"{}T21:00\"\nmass_g = {prey:.1}\noutcome = \"taken\"\n",
                date(*on)
            ));
        }
        text.push_str(&format!(
            "[[reading]]\nat = \"{}\"\nspot = \"warm-air\"\ntemperature_c = 29\nmeans = \"mean\"\n",
            date(now - 1)
        ));
    }
    let later = AHEAD_D.iter().map(|ahead| (*ahead, on(now + ahead) * (noise * normal(rng)).exp())).collect();
    Life { case: text, later, is_fed_on_record }
}

/// How forecasts did.
#[derive(Default)]
pub struct Score {
    /// Lives asked about, and answered.
    pub lives: (usize, usize),
    /// For each of [`AHEAD_D`]: answered, inside the band, below it, and the errors of the middle as logarithms.
    pub ahead: [(usize, usize, usize, Vec<f64>); 4],
    /// The same over all with meals on record: answered and inside.
    pub fed: (usize, usize),
}

impl Score {
    /// Share of true masses inside the band, in %.
    pub fn coverage_pct(&self) -> f64 {
        let (all, inside) = self.ahead.iter().fold((0, 0), |(all, inside), one| (all + one.0, inside + one.1));
        100.0 * inside as f64 / all as f64
    }
}

/// Asks for the forecast of each life and holds it against what came.
pub fn score(lives: impl Iterator<Item = u64>) -> Score {
    let mut score = Score::default();
    for number in lives {
        let life = life(number);
        score.lives.0 += 1;
        let Ok(case) = records::case_file::read("life.toml", life.case.as_bytes()) else { continue };
        let Some(Ok(answer)) = case.at.map(|at| care::assess(&case, at)) else { continue };
        let mass = &answer.forecasts.mass;
        score.lives.1 += usize::from(!mass.is_empty());
        for ((days, true_g), score_at) in life.later.iter().zip(&mut score.ahead) {
            let Some(one) = mass.iter().find(|one| (one.at.days_since(answer.at) - *days as f64).abs() < 0.5) else {
                continue;
            };
            let inside = one.low <= *true_g && *true_g <= one.high;
            score_at.0 += 1;
            score_at.1 += usize::from(inside);
            score_at.2 += usize::from(*true_g < one.low);
            score_at.3.push((true_g / one.mid).ln());
            if life.is_fed_on_record {
                score.fed.0 += 1;
                score.fed.1 += usize::from(inside);
            }
        }
    }
    score
}
