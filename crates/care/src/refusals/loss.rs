//! What a fast costs: mass lost so far, and the day on which a tenth would be gone.

use science::statistics::normal;
use science::statistics::trend::theil_sen;
use units::Moment;

use crate::answer::SourceRef;
use crate::lines;
use crate::view::View;
use crate::what_if::Range;

/// What the loss rests on.
#[derive(Clone, Debug, PartialEq)]
pub enum LossBy {
    /// Its own weighings in the fast: how many.
    OwnWeighings(usize),
    /// The row of its own species in the table of losses.
    ItsSpecies(&'static str),
    /// All rows of the table, since its species is in none.
    AllSpecies,
}

/// What a fast costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Loss {
    /// From when it is counted: two weeks after the last meal.
    pub begins: Moment,
    /// % of body mass a day.
    pub pct_d: Range,
    /// What it rests on.
    pub by: LossBy,
    /// Expected to be lost by now since the fast began, %.
    pub so_far_pct: Range,
    /// What the scale says: lighter than its best empty weighing of the last year, %.
    pub weighed_pct: Option<f64>,
    /// Days from now until a tenth is gone; `None` where it is gone already, or its own weight does not fall.
    pub days_to_tenth: Option<Range>,
    /// Body temperature it is reckoned for, °C, and whether the profile's stands for readings that are not there.
    pub body_c: Option<(f64, bool)>,
    /// Where it comes from.
    pub source: SourceRef,
}

/// Why there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoLoss {
    /// No meal is on record.
    NoMeal,
    /// The fast is too young: what is lost is still waste and water.
    TooEarly,
    /// She carries, broods or has just laid.
    Gravid,
    /// A winter rest has another rate.
    WinterRest,
    /// No mass is known, or none fresh enough.
    NoMass,
    /// Too small: the table promises too much.
    TooSmall,
}

impl NoLoss {
    /// One sentence.
    pub fn says(self) -> &'static str {
        match self {
            NoLoss::NoMeal => "What a fast costs cannot be told: no meal is on record.",
            NoLoss::TooEarly => {
                "What a fast costs cannot be told yet: until two weeks after the meal is digested the scale shows waste and water."
            }
            NoLoss::Gravid => "What a fast costs is not told of a female with eggs or young: her own weighings tell.",
            NoLoss::WinterRest => "What a fast costs is not told of a winter rest: its own weighings tell.",
            NoLoss::NoMass => "What a fast costs cannot be told without a weighing of the last half year.",
            NoLoss::TooSmall => {
                "Of an animal under 50 g no date is told: young ones lose faster than any table has it. Weigh it every week."
            }
        }
    }
}

/// One standard deviation to the 10th and 90th percentile.
fn tails(mid: f64, deviation_ln: f64) -> Range {
    let far = (normal::quantile(0.9) * deviation_ln).exp();
    Range { low: mid / far, mid, high: mid * far }
}

/// What a fast costs (physiology notes, estimate E10): m falls by exp(−k t), k = k27 × 2.5^((T − 27)/10) × (m/200 g)^−0.25
/// from the row of the table that is nearest, or from its own weighings where there are enough.
pub fn loss(view: &View<'_>) -> Result<Loss, NoLoss> {
    let index = view.meals.last_taken.ok_or(NoLoss::NoMeal)?;
    let last = view.line.meals.get(index).ok_or(NoLoss::NoMeal)?;
    if view.gravid().is_some() || view.brooding().is_some() {
        return Err(NoLoss::Gravid);
    }
    if view.is_brumating() {
        return Err(NoLoss::WinterRest);
    }
    let digested_d =
        view.meals.eaten.iter().rev().find(|eaten| eaten.index == index).and_then(|eaten| eaten.digestion_d);
    let digested_d = digested_d.unwrap_or_else(|| lines::low("gut_empty_unknown").value);
    let wait_d = lines::low("fast_begins").value;
    let begins = last.at.to.plus_days(wait_d);
    if view.now < last.at.to.plus_days(digested_d + wait_d) {
        return Err(NoLoss::TooEarly);
    }
    if !view.masses.is_known_within(lines::low("mass_stands_for").value, view.now) {
        return Err(NoLoss::NoMass);
    }
    let body_g = view.masses.last().and_then(|last| last.empty_g).ok_or(NoLoss::NoMass)?;
    if body_g < lines::low("fast_small").value {
        return Err(NoLoss::TooSmall);
    }
    let body_c = body_c(view);
    let (pct_d, by, source) = own(view, begins).unwrap_or_else(|| from_table(view, body_g, body_c));
    let days = view.now.days_since(begins);
    let gone = |k: f64| 100.0 * (1.0 - (-k / 100.0 * days).exp());
    let so_far_pct = Range { low: gone(pct_d.low), mid: gone(pct_d.mid), high: gone(pct_d.high) };
    // The line is a tenth under its best empty weighing; without one, under today's mass.
    let weighed_pct = view.masses.loss_pct;
    let left = (1.0 - weighed_pct.unwrap_or(0.0).max(0.0) / 100.0).ln() - 0.9f64.ln();
    let since_weighed = view.masses.last().map_or(0.0, |last| view.now.days_since(last.at));
    let until = |k: f64| if 0.0 < k { (100.0 * left / k - since_weighed).max(0.0) } else { f64::INFINITY };
    let days_to_tenth = (0.0 < left && 0.0 < pct_d.low).then(|| Range {
        low: until(pct_d.high),
        mid: until(pct_d.mid),
        high: until(pct_d.low),
    });
    Ok(Loss { begins, pct_d, by, so_far_pct, weighed_pct, days_to_tenth, body_c, source })
}

/// Its own slope: at least three empty weighings of the fast over at least 28 days. A slope that may as well be none or
/// a gain has a low end of zero.
fn own(view: &View<'_>, begins: Moment) -> Option<(Range, LossBy, SourceRef)> {
    let fast: Vec<(f64, f64)> = view
        .masses
        .list
        .iter()
        .filter(|one| one.is_empty && begins <= one.at)
        .filter_map(|one| Some((one.at.days_since(begins), one.empty_g?.ln())))
        .collect();
    let (least, over) = (lines::low("fast_own_slope"), lines::group("fast_own_slope", "over at least"));
    let span = fast.last()?.0 - fast.first()?.0;
    if (fast.len() as f64) < least.value || span < over.value {
        return None;
    }
    let trend = theil_sen(&fast, 0.8)?;
    let [steep, flat] = trend.slope_interval;
    // Three points may lie on a line by luck: the noise of a weighing counts too.
    let middle = fast.iter().map(|(day, _)| day).sum::<f64>() / fast.len() as f64;
    let spread: f64 = fast.iter().map(|(day, _)| (day - middle).powi(2)).sum();
    let off = normal::quantile(0.9) * lines::low("fast_weighing_noise").value / 100.0 / spread.sqrt();
    let lost = |slope: f64| (-100.0 * slope).max(0.0);
    let mid = trend.line.slope;
    let range = Range { low: lost(flat.max(mid + off)), mid: lost(mid), high: lost(steep.min(mid - off)) };
    Some((range, LossBy::OwnWeighings(fast.len()), least.source))
}

fn from_table(view: &View<'_>, body_g: f64, body_c: Option<(f64, bool)>) -> (Range, LossBy, SourceRef) {
    const Q10: f64 = 2.5;
    const TABLE_C: f64 = 27.0;
    const TABLE_G: f64 = 200.0;
    const MASS_EXPONENT: f64 = -0.25;
    let rule = lines::rule("fast_loss");
    let rows: Vec<(&'static str, f64)> = rule.map_or(Vec::new(), |rule| {
        rule.groups.iter().filter_map(|one| Some((one.group.as_str(), one.figure.as_ref()?.low))).collect()
    });
    let row = rows.iter().find(|(key, _)| *key == view.profile.key);
    let spread = lines::whole("fast_loss_spread");
    let (k27, by, deviation) = match row {
        Some((key, k)) => (*k, LossBy::ItsSpecies(key), spread.map_or(f64::NAN, |figure| figure.low)),
        None => {
            let mean = rows.iter().map(|(_, k)| k.ln()).sum::<f64>() / rows.len().max(1) as f64;
            (mean.exp(), LossBy::AllSpecies, spread.map_or(f64::NAN, |figure| figure.high))
        }
    };
    let degrees = body_c.map_or(TABLE_C, |(degrees, _)| degrees);
    let off_c =
        lines::low("energy_body_temperature").value * if body_c.is_none_or(|(_, assumed)| assumed) { 2.0 } else { 1.0 };
    let k = k27 * Q10.powf((degrees - TABLE_C) / 10.0) * (body_g / TABLE_G).powf(MASS_EXPONENT);
    let deviation = deviation.hypot(off_c / 10.0 * Q10.ln());
    (tails(k, deviation), by, lines::source("fast_loss"))
}

/// Body temperature at rest: from the readings of late, else from the middle of what the profile wants; the flag says
/// which.
pub fn body_c(view: &View<'_>) -> Option<(f64, bool)> {
    if let Some(measured) = view.warmth.body_c(false) {
        return Some((measured, false));
    }
    let temperature = &view.profile.temperature;
    let (warm, cool) = (temperature.warm_ambient_c.first()?.middle(), temperature.cool_ambient_c.first()?.middle());
    let wanted = crate::warmth::Warmth { warm_c: Some(warm), cool_c: Some(cool), ..Default::default() };
    Some((wanted.body_c(false)?, true))
}
