//! What to do in a power cut, in order, with clock times.

use units::Moment;

use super::cooling::Lines;
use crate::lines;
use crate::what_if::{Known, Range, Step};

/// The steps, from now on.
pub fn of(known: &Known, lines_of: &Lines, act: Option<Range>, urgent: Option<Range>, has_battery: bool) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut step = |at: Option<Moment>, does: String, because: &str| {
        steps.push(Step { at, does, because: because.to_owned() });
    };
    step(
        Some(known.now),
        "Write down when the power went, and keep the enclosure closed.".to_owned(),
        "Every look inside costs more warmth than it tells.",
    );
    step(
        Some(known.now),
        "Cover the lid, then wrap all sides in blankets; leave a finger's width open for air.".to_owned(),
        "Most warmth leaves through the lid; a closed box still needs a little air.",
    );
    step(
        None,
        "Switch the heaters off at the wall, so that nothing hot comes back on under a blanket.".to_owned(),
        "A covered heater that comes on by itself is a fire.",
    );
    step(None, "Feed nothing.".to_owned(), "A meal is not digested in a cooling enclosure.");
    let measure = lines::low("power_measure").value;
    let line = lines_of.act.value;
    let mut timed = vec![(
        measure,
        format!("Read the warm side through the wrap; then every {measure:.0} h."),
        "What is measured counts, not what was reckoned.",
    )];
    if let Some(act) = act.filter(|act| act.low.is_finite()) {
        let heat = if has_battery {
            "the battery on a small heater, or bottles of hot water in a cloth"
        } else {
            "bottles of hot water in a cloth"
        };
        let does =
            format!("From here on it may be under {line:.0} °C: add {heat}, beside the animal and never against it.");
        timed.push((act.low, does, "This is the early end of the range."));
    }
    if let Some(urgent) = urgent.filter(|urgent| urgent.low.is_finite()) {
        let does = format!(
            "Before {:.0} °C: move the animal, in a cloth bag inside a foam box, to a warm car or a warm house.",
            lines_of.urgent.value
        );
        timed.push((
            urgent.low,
            does,
            "Under this line it is a danger to life; call a reptile veterinarian if it is limp.",
        ));
    }
    // What comes first by the clock stands first.
    timed.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (hours, does, because) in timed {
        step(Some(known.now.plus_hours(hours)), does, because);
    }
    let (low, high) = (lines::low("power_food_after").value, lines::high("power_food_after").value);
    step(
        None,
        format!(
            "When the power is back: unwrap, switch on, warm slowly, and feed nothing for {low:.0} to {high:.0} h."
        ),
        "What was cold is brought back over hours, not minutes.",
    );
    steps
}
