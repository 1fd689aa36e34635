//! What was measured of late, beside what is reckoned.

use records::facts::{Means, Spot};

use super::Now;
use crate::answer::Severity;
use crate::lines;
use crate::twin::model::SPOTS;
use crate::twin::words;
use crate::what_if::{Cell, Known, Range, Reckoning, Table, Unit, Warning};

/// Humidity of a spot as it was read of late, %, and the temperature beside it, °C.
fn read(known: &Known, spot: Spot) -> Option<(f64, Option<f64>)> {
    let since = known.now.plus_days(-lines::high("readings_stand").value);
    let readings = &known.place.as_ref()?.readings;
    let of_spot = readings.iter().filter(|one| {
        one.spot == spot
            && since <= one.at.to
            && one.at.from <= known.now
            && matches!(one.means, Means::SpotCheck | Means::Mean)
    });
    let all: Vec<(f64, Option<f64>)> = of_spot.filter_map(|one| Some((one.humidity_pct?, one.temperature_c))).collect();
    let mean = |values: &[f64]| (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64);
    let damp: Vec<f64> = all.iter().map(|(pct, _)| *pct).collect();
    let warm: Vec<f64> = all.iter().filter_map(|(_, c)| *c).collect();
    Some((mean(&damp)?, mean(&warm)))
}

/// Sets readings beside the model, and says where they disagree.
pub(super) fn measured(answer: &mut Reckoning, known: &Known, sets: &[Now]) {
    let slack = lines::low("humidity_off").value;
    let mut rows = Vec::new();
    let mut apart = None;
    for spot in SPOTS {
        let Some((pct, warm_c)) = read(known, spot) else { continue };
        let Some(reckoned) = Range::of(sets.iter().map(|now| now.pct(spot))) else { continue };
        if let Some(at) = answer.spots.iter_mut().find(|at| at.spot == spot) {
            at.measured_c = warm_c;
        }
        let off = (reckoned.low - slack - pct).max(pct - reckoned.high - slack);
        let word = match off {
            off if off <= 0.0 => "agree",
            _ if pct < reckoned.mid => "drier than reckoned",
            _ => "damper than reckoned",
        };
        rows.push(vec![
            Cell::Says(words::spot(spot)),
            Cell::Is(Range::exactly(pct), Unit::Humidity),
            Cell::Is(reckoned, Unit::Humidity),
            Cell::Says(word.to_owned()),
        ]);
        if 0.0 < off && apart.is_none_or(|(_, _, _, most)| most < off) {
            apart = Some((spot, pct, reckoned, off));
        }
    }
    if rows.is_empty() {
        return;
    }
    let columns = [("spot", "spot"), ("measured", "measured"), ("reckoned", "reckoned"), ("verdict", "")];
    answer.tables.push(Table::new("measured", "measured in the last days, and reckoned", columns, rows));
    if let Some((spot, pct, reckoned, _)) = apart {
        let (why, does) = if pct < reckoned.mid {
            (
                "more air passes than was taken, or the bowl gives less",
                "Look for gaps and an empty bowl, and try the hygrometer beside a second one.",
            )
        } else {
            (
                "less air passes than was taken, or something else is wet",
                "Look for a wet floor or a leak, and try the hygrometer beside a second one.",
            )
        };
        answer.warnings.push(Warning {
            key: "readings-disagree",
            severity: Severity::Note,
            says: format!(
                "Measured at the {}: {pct:.0} %; reckoned: {}. Either {why}, or the hygrometer is off.",
                words::spot(spot),
                words::percent(reckoned)
            ),
            does: does.into(),
            source: Some(lines::source("humidity_off")),
            caution: Some("sensors"),
        });
    } else {
        answer.says.push("What was measured in the last days agrees with it.".into());
    }
}
