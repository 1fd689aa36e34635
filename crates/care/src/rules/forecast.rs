//! What is likely to come, with its range; what would not be honest is absent.

use records::facts::{Outcome, Stage};
use science::statistics::normal;
use units::Moment;

use crate::answer::{Action, DateRange, Forecasts, Task};
use crate::draft::Draft;
use crate::growth::{Growth, Lengths, steps};
use crate::view::View;

/// All of them.
pub fn forecasts(view: &View<'_>, draft: &mut Draft) -> Forecasts {
    let growth = match Growth::of(view, None) {
        Ok(growth) => growth,
        Err(refusal) => {
            if let Some(needs) = refusal.needs() {
                draft.miss(needs, 20.0);
            }
            return without_growth(view, draft);
        }
    };
    let lengths = Lengths::of(view, &growth);
    Forecasts {
        mass: growth.mass(),
        length: lengths.as_ref().map(|lengths| lengths.shown(view.now)).unwrap_or_default(),
        assumes: Some(growth.assumed()),
        prey_step_up: steps::prey(view, &growth),
        enclosure_step_up: lengths.as_ref().and_then(|lengths| steps::enclosure(view, &growth, lengths)),
        ..without_growth(view, draft)
    }
}

/// Those that need no model of growth: the next meal likely taken, and the next shed.
pub fn without_growth(view: &View<'_>, draft: &mut Draft) -> Forecasts {
    Forecasts { next_meal: next_meal(view, draft), next_shed: next_shed(view), ..Forecasts::default() }
}

/// The next meal likely taken: from the next offer on, an offer every retry gap, each taken with the animal's own
/// share (beta-binomial with a prior of four offers taken and one refused: from memory, replaced by its records soon).
fn next_meal(view: &View<'_>, draft: &Draft) -> Option<DateRange> {
    let planned = draft.due.iter().chain(&draft.ahead).find(|due| due.task == Task::OfferMeal)?;
    if matches!(draft.held_until(Action::OfferMeal), Some(None)) {
        return None;
    }
    let offers = view.line.meals.iter().rev().take(20).filter(|meal| meal.outcome != Outcome::Unseen);
    let (mut taken, mut all) = (4.0, 5.0);
    for meal in offers {
        all += 1.0;
        taken += f64::from(u8::from(meal.was_eaten()));
    }
    let share: f64 = taken / all;
    let gap_d = crate::lines::low("arrival_retry").value;
    // Number of offers until one is taken: geometric. Its percentiles, each further offer a retry gap later.
    let offers_until = |q: f64| ((1.0 - q).ln() / (1.0 - share).ln()).ceil().max(1.0);
    let first = planned.from.max(view.now);
    let at = |q: f64| first.plus_days((offers_until(q) - 1.0) * gap_d);
    Some(DateRange { low: at(0.1), mid: at(0.5), high: at(0.9) })
}

/// Next shed (physiology notes, E9): ln interval ~ Normal(mu, s), s 0.45, mu from the profile's interval for the stage
/// (the notes' prior where there is none) with the weight of two intervals, shrunk toward the animal's own. Given that
/// it has not happened yet. Blue noted: blue + 9 d (6 to 15). `None` with no shed on record, in a winter rest, or
/// where the skin is long late.
fn next_shed(view: &View<'_>) -> Option<DateRange> {
    if view.is_brumating() || view.is_dead() {
        return None;
    }
    if let Some(shed) = view.open_shed()
        && let Some(blue) = shed.blue_at
    {
        let from = blue.middle();
        let range = DateRange { low: from.plus_days(6.0), mid: from.plus_days(9.0), high: from.plus_days(15.0) };
        return (view.now < range.high).then(|| DateRange {
            low: range.low.max(view.now),
            mid: range.mid.max(view.now),
            high: range.high,
        });
    }
    let off: Vec<Moment> = view.line.sheds.iter().filter_map(|shed| shed.shed_at).map(units::When::middle).collect();
    let last = *off.last()?;
    let prior_d = match view.shed_interval_d() {
        Some(interval) => (interval.low * interval.high).sqrt(),
        None => match view.stage {
            Some(Stage::Hatchling | Stage::Juvenile) => 38.0,
            Some(Stage::Subadult) => 55.0,
            _ => 85.0,
        },
    };
    let own: Vec<f64> = off
        .windows(2)
        .filter_map(|pair| if let [a, b] = pair { Some(b.days_since(*a)) } else { None })
        .filter(|days| (10.0..=250.0).contains(days))
        .collect();
    let recent = own.get(own.len().saturating_sub(5)..).unwrap_or_default();
    const S: f64 = 0.45;
    const PRIOR_WEIGHT: f64 = 2.0;
    let n = recent.len() as f64;
    let mu = (recent.iter().map(|days| days.ln()).sum::<f64>() + PRIOR_WEIGHT * prior_d.ln()) / (n + PRIOR_WEIGHT);
    let spread = S * (1.0 + 1.0 / (n + PRIOR_WEIGHT)).sqrt();
    let elapsed = view.now.days_since(last).max(0.0);
    // Given that nothing came off so far: quantiles of what is left of the distribution.
    let below = if elapsed < 1.0 { 0.0 } else { normal::below((elapsed.ln() - mu) / spread) };
    if 0.97 < below {
        return None;
    }
    let at = |q: f64| last.plus_days((mu + spread * normal::quantile(below + q * (1.0 - below))).exp());
    Some(DateRange { low: at(0.1), mid: at(0.5), high: at(0.9) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    #[test]
    fn just_after_a_shed_the_window_is_that_of_the_check_block() {
        // Physiology notes, check E9: adult, prior 85 d, own intervals 65, 59, 52 d: mid 68 d, window 36 to 128 d.
        // Here the prior is the profile's; an override gives it the notes' 85 d.
        let answer = answer(
            "at = \"2027-06-25T12:00\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n\
             [[override]]\npath = \"shed.interval_d.adult\"\nlow = 85\nhigh = 85\nreason = \"check value of the notes\"\n\
             [[shed]]\nshed_at = \"2026-12-31T12:00\"\n[[shed]]\nshed_at = \"2027-03-06T12:00\"\n[[shed]]\nshed_at = \"2027-05-04T12:00\"\n[[shed]]\nshed_at = \"2027-06-25T12:00\"\n",
        );
        let range = answer.forecasts.next_shed.unwrap();
        let days = |moment: Moment| moment.days_since(answer.at);
        for (got, wanted) in [(days(range.low), 36.0), (days(range.mid), 68.0), (days(range.high), 128.0)] {
            assert!((got - wanted).abs() < 0.7, "{got:.1} d, the notes have {wanted}");
        }
    }

    #[test]
    fn what_has_not_happened_yet_lies_ahead() {
        let text = |at: &str| {
            format!(
                "at = \"{at}\"\n[animal]\nspecies = \"ball_python\"\nstage = \"adult\"\n[[shed]]\nshed_at = \"2027-01-01\"\n"
            )
        };
        for at in ["2027-01-02T12:00", "2027-03-20T12:00", "2027-05-20T12:00"] {
            let answer = answer(&text(at));
            let range = answer.forecasts.next_shed.unwrap();
            assert!(answer.at <= range.low && range.low < range.mid && range.mid < range.high, "{at}");
        }
        let no_shed = answer("at = \"2027-01-02T12:00\"\n[animal]\nspecies = \"ball_python\"\n");
        assert!(no_shed.forecasts.next_shed.is_none(), "no shed on record, no date");
    }
}
