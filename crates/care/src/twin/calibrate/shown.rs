//! Curves of a log beside the model, and what the fit changes.

use science::physics::calibration::ScaledFit;

use super::log::{LogTable, Row};
use crate::twin::matched::{Goal, SIDES};
use crate::twin::model::Drive;
use crate::twin::{Description, Spread};
use crate::what_if::{Cell, Curve, Point, Range, Reckoning, Table, Unit};

/// No curve has more points.
const MOST_POINTS: usize = 200;

/// Measured beside modelled, and what is left over, for both sides. Each point of a long log stands for a span of it: its
/// middle and the 10th and 90th percentile there.
pub(super) fn curves(answer: &mut Reckoning, log: &LogTable, found: &ScaledFit) {
    measured(answer, log);
    let modelled = |side: usize| -> Vec<Option<f64>> {
        let of = |(place, both): (usize, &[f64; 2])| both.get(side).copied().filter(|_| found.led_in <= place);
        found.modelled_c.iter().enumerate().map(of).collect()
    };
    let [warm_left, cool_left] = left(log, found);
    for (key, says, values, unit) in [
        ("warm-modelled", "warm side, modelled", modelled(0), Unit::Celsius),
        ("cool-modelled", "cool side, modelled", modelled(1), Unit::Celsius),
        ("warm-left-over", "warm side, modelled over measured", warm_left, Unit::Kelvin),
        ("cool-left-over", "cool side, modelled over measured", cool_left, Unit::Kelvin),
    ] {
        answer.curves.push(Curve { key, says: says.to_owned(), unit, points: thinned(log, &values) });
    }
}

/// Modelled less measured, warm and cool, K; nothing where nothing was compared.
fn left(log: &LogTable, found: &ScaledFit) -> [Vec<Option<f64>>; 2] {
    let reads: [fn(&Row) -> Option<f64>; 2] = [|row| row.warm_c, |row| row.cool_c];
    [0, 1].map(|side: usize| {
        let both = found.modelled_c.iter().zip(&log.rows).enumerate();
        both.map(|(place, (modelled, row))| {
            let read = reads.get(side).and_then(|read| read(row))?;
            (found.led_in <= place).then(|| modelled.get(side).map_or(f64::NAN, |one| one - read))
        })
        .collect()
    })
}

/// What is left over, in numbers: all of it, and where the heater was off or on at least half of a step.
pub(super) fn left_over(log: &LogTable, found: &ScaledFit) -> Option<Table> {
    let [warm, cool] = left(log, found);
    let most = log.rows.iter().filter_map(|row| row.heater).fold(0.0, f64::max);
    let is_on = |row: &Row| row.heater.map(|heater| 0.5 * most <= heater);
    let over = |values: &[Option<f64>], of: &dyn Fn(&Row) -> bool| {
        let both = values.iter().zip(&log.rows);
        let range = Range::of(both.filter(|(_, row)| of(row)).filter_map(|(value, _)| *value));
        range.map_or(Cell::Nothing, |range| Cell::Is(range, Unit::Kelvin))
    };
    let row =
        |says: &str, of: &dyn Fn(&Row) -> bool| vec![Cell::Says(says.to_owned()), over(&warm, of), over(&cool, of)];
    Some(Table::new(
        "left-over",
        "What the model leaves over: modelled less measured",
        [("when", ""), ("warm", "warm side"), ("cool", "cool side")],
        vec![
            row("all of the log", &|_| true),
            row("heater on", &|row| is_on(row) == Some(true)),
            row("heater off", &|row| is_on(row) == Some(false)),
        ],
    ))
}

/// What was measured.
pub(super) fn measured(answer: &mut Reckoning, log: &LogTable) {
    type Read = fn(&Row) -> Option<f64>;
    let (warm, cool): (Read, Read) = (|row| row.warm_c, |row| row.cool_c);
    let sides = [("warm-measured", "warm side, measured", warm), ("cool-measured", "cool side, measured", cool)];
    for (key, says, read) in sides {
        let values: Vec<Option<f64>> = log.rows.iter().map(read).collect();
        let points = thinned(log, &values);
        answer.curves.push(Curve { key, says: says.to_owned(), unit: Unit::Celsius, points });
    }
}

fn thinned(log: &LogTable, values: &[Option<f64>]) -> Vec<Point> {
    let each = values.len().div_ceil(MOST_POINTS).max(1);
    let spans = values.chunks(each).enumerate();
    let point = |(number, span): (usize, &[Option<f64>])| {
        let middle = (number * each) as f64 + (span.len() as f64 - 1.0) / 2.0;
        let range = Range::of(span.iter().copied().flatten())?;
        Some(Point { minutes: middle * log.step_s / 60.0, range })
    };
    spans.filter_map(point).collect()
}

/// What the description alone says: by how much both sides stand over the room with the main heater always on, K, and how
/// long they cool, h. `None` where no model can be made of it.
pub(super) fn described(described: &Description, watts: f64) -> Option<[Option<Range>; 3]> {
    if described.heaters.is_empty() {
        return None;
    }
    let spread = Spread::of(described).ok()?;
    let room_c = described.room_c.unwrap_or(21.0);
    Some(spread.ranges(|model| {
        let mut drives = vec![Drive::Gives(0.0); model.heater_count()];
        if let Some(main) = drives.first_mut() {
            *main = Drive::Gives(watts);
        }
        let goal = Goal::of_network(model.settled(&drives, room_c)?.network(), SIDES)?;
        Ok([goal.warm_k_w * watts, goal.cool_k_w * watts, goal.time_s / 3600.0])
    }))
}

/// What the description said beside what the log says; `None` where no model can be made of the description.
pub(super) fn changes(description: &Description, watts: f64, fitted: [Range; 3]) -> Option<Table> {
    let before = described(description, watts)?;
    let names = ["warm side over the room", "cool side over the room", "until a third of the warmth is left"];
    let units = [Unit::Kelvin, Unit::Kelvin, Unit::Hours];
    let rows = names.iter().zip(units).zip(before.into_iter().zip(fitted)).map(|((name, unit), (before, fitted))| {
        let before = before.map_or(Cell::Nothing, |range| Cell::Is(range, unit));
        vec![Cell::Says((*name).to_owned()), before, Cell::Is(fitted, unit)]
    });
    Some(Table::new(
        "fit-changes",
        "What the description said, and what the log says",
        [("what", ""), ("described", "described"), ("logged", "logged")],
        rows.collect(),
    ))
}
