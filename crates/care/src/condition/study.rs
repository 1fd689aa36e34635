//! What the records say of its condition.

use super::kin::published;
use super::{Band, Kin, Sample, scaled, score};
use crate::answer::{Answer, Code, SourceRef};
use crate::lines;
use crate::study::{Study, source_list, warnings};
use crate::view::{View, grams, number, plural};
use crate::what_if::{Amount, Basis, Cell, Range, Reckoning, Table, Unit};

/// The study; `kin` are the others of its species in the household.
pub fn study(view: &View<'_>, answer: &Answer, kin: &Kin) -> Reckoning {
    const CODES: [Code; 10] = [
        Code::ConditionThin,
        Code::ConditionHeavy,
        Code::Emaciation,
        Code::MassLossVet,
        Code::MassLossWatch,
        Code::GrowthSlow,
        Code::GrowthFast,
        Code::MassSuspect,
        Code::RationHigh,
        Code::RationLow,
    ];
    let mut to = Reckoning::to(Study::Condition, Basis::Direct);
    against_its_own(&mut to, view);
    let for_length = against_others(&mut to, view, kin);
    by_eye(&mut to, view);
    let bands: Vec<Band> = kin.bands(view).into_iter().chain(published(view)).collect();
    beside(&mut to, view, &bands);
    to.warnings = warnings(answer, &CODES);
    // What a finding says is not said twice.
    let told: Vec<String> = to.warnings.iter().map(|warning| warning.says.clone()).collect();
    to.says.retain(|says| !told.contains(says));
    let of_bands = bands.into_iter().map(|band| band.source);
    to.sources = source_list(
        [lines::source("weight_loss_watch"), lines::source("bcs_scale"), lines::source("bcs_shape")]
            .into_iter()
            .chain(for_length)
            .chain(of_bands),
    );
    to
}

fn against_its_own(to: &mut Reckoning, view: &View<'_>) {
    let masses = &view.masses;
    let Some(last) = masses.last() else {
        to.says.push("It was never weighed: its condition is what the eye sees.".to_owned());
        to.untold.push("How it stands against its own best: it needs weighings with an empty gut.".to_owned());
        return;
    };
    let now_g = last.empty_g.unwrap_or(last.mass_g);
    let Some(best) = masses.reference else {
        to.says.push(format!(
            "It weighed {} on {}; no earlier empty weighing of the last twelve months is there to compare.",
            grams(now_g),
            view.date(last.at)
        ));
        to.untold
            .push("How it stands against its own best: it needs an earlier weighing with an empty gut.".to_owned());
        return;
    };
    let best_g = best.empty_g.unwrap_or(best.mass_g);
    let share = 100.0 * now_g / best_g;
    // A growing animal outweighs its past; how fast is another question.
    const GROWS_PCT: f64 = 105.0;
    let verdict = match share {
        share if share < 99.5 => format!("{} % under", number(100.0 - share)),
        share if share < 100.5 => "as heavy as".to_owned(),
        share if share < GROWS_PCT => format!("{} % over", number(share - 100.0)),
        _ => "heavier, as it grows, than".to_owned(),
    };
    to.says.push(format!(
        "It weighed {} on {}, {verdict} its best empty weighing of the twelve months before ({} on {}).",
        grams(now_g),
        view.date(last.at),
        grams(best_g),
        view.date(best.at)
    ));
    to.amounts.push(Amount::new(
        "own-reference",
        "of its own best of the last twelve months",
        Range::exactly(share),
        Unit::Percent,
    ));
}

/// The published sample, else one of the house, where its length and its mass are known together.
fn against_others(to: &mut Reckoning, view: &View<'_>, kin: &Kin) -> Option<SourceRef> {
    let Some((mass_g, length_cm, ..)) = scaled::body(view) else {
        to.untold.push("Mass for length: it needs a whole length and a weighing of the same weeks.".to_owned());
        return None;
    };
    let others = kin.bodies(view.now);
    let sample = Sample::published(&view.profile.key).or_else(|| Sample::of(&others));
    let Some(sample) = sample else {
        to.untold.push(format!(
            "Mass for length: no sample of its species is at hand, and of the {} needed {} in the house are weighed and measured.",
            number(lines::low("scaled_mass_animals").value),
            others.len()
        ));
        return None;
    };
    let Some(found) = sample.index(mass_g, length_cm) else {
        to.untold.push(format!(
            "Mass for length: the sample holds for {} to {} cm.",
            number(sample.holds_cm.0.round()),
            number(sample.holds_cm.1.round())
        ));
        return None;
    };
    let whose = if sample.is_of_the_house { "of the house" } else { "of published series" };
    let (low, high) = sample.between_g;
    let outside = sample.outside(&found);
    let verdict = if outside < 0.0 {
        "light for its length, or a slip of the tape"
    } else if 0.0 < outside {
        "heavy for its length, or a slip of the tape"
    } else {
        "in the usual range"
    };
    to.says.push(format!(
        "Scaled to {} cm it weighs {}; of {} {whose} nine in ten weigh {} to {}: {verdict}.",
        number(sample.length_cm.round()),
        grams(found.index_g),
        plural(sample.animals as f64, "animal"),
        grams(low),
        grams(high)
    ));
    let tape = lines::low("scaled_mass_tape").value / 100.0;
    let index = found.index_g;
    let of = |key, says: String, range| Amount::new(key, says, range, Unit::Grams);
    let says = format!("scaled mass index, at {} cm; the range is that of the tape", number(sample.length_cm.round()));
    to.amounts.push(of(
        "scaled-mass",
        says,
        Range { low: index * (1.0 - tape), mid: index, high: index * (1.0 + tape) },
    ));
    let says = format!("the same of nine in ten of {} {whose}", plural(sample.animals as f64, "animal"));
    to.amounts.push(of("scaled-mass-usual", says, Range { low, mid: sample.middle_g, high }));
    Some(sample.source)
}

fn by_eye(to: &mut Reckoning, view: &View<'_>) {
    match score::last(view) {
        Some((found, weighing)) => {
            to.says.push(format!("By eye it scored {found} of 9 on {}: {}.", view.date(weighing.at.from), score::word(found)));
            to.amounts.push(Amount::new("body-score", "score by eye, of 9; 5 is ideal", Range::exactly(f64::from(found)), Unit::Number));
        }
        None => to.untold.push(format!(
            "The score by eye: none is noted of the last {} days. Lift it, look along its back, and note the score with its weight.",
            number(lines::low("body_score_stands").value)
        )),
    }
}

fn beside(to: &mut Reckoning, view: &View<'_>, bands: &[Band]) {
    let Some(age) = view.age else {
        to.untold.push("Its growth beside others: its age is not known.".to_owned());
        return;
    };
    let Some(mass_g) = view.masses.last().and_then(|last| last.empty_g) else { return };
    if bands.is_empty() {
        to.untold.push("Its growth beside others: no weights of its species at its age are at hand.".to_owned());
        return;
    }
    let rows = bands.iter().map(|band| {
        let (low, high) = band.between_g;
        let place = if mass_g < low {
            "lighter"
        } else if high < mass_g {
            "heavier"
        } else {
            "between"
        };
        let from = format!("{} ({})", band.source.key, band.source.status.key().replace('-', " "));
        let note = band.note.as_ref().map_or(String::new(), |note| format!("; {note}"));
        vec![
            Cell::Says(format!("{}{note}", band.who)),
            Cell::Is(Range::exactly(band.age_d.round()), Unit::Days),
            Cell::Is(Range::exactly(band.animals as f64), Unit::Number),
            Cell::Says(if low == high { grams(low) } else { format!("{} to {}", grams(low), grams(high)) }),
            Cell::Says(place.to_owned()),
            Cell::Says(from),
        ]
    });
    to.tables.push(Table::new(
        "growth-beside",
        "its mass beside others: what was found, not what is to be reached",
        [
            ("who", "who"),
            ("age", "at"),
            ("animals", "animals"),
            ("masses", "weighed"),
            ("place", &format!("this animal, {:.0} days old, is", age.middle())),
            ("from", "from"),
        ],
        rows.collect(),
    ));
}
