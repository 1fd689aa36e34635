//! What a blanket, foam, bottles and a battery buy.

use records::facts::Spot;
use science::physics::network::NetworkFault;

use super::Asked;
use super::cooling::{Cooling, HOURS, Lines, room_after, start};
use crate::lines;
use crate::twin::model::Drive;
use crate::twin::warmth::push;
use crate::twin::{Description, Model, Spread, State, words};
use crate::what_if::{Cell, Range, Reckoning, Table, Unit};

/// Heat of a litre of water, J/K.
const LITRE_J_K: f64 = 4180.0;
/// Hours between two fillings that are compared.
const REFILLS_H: [f64; 3] = [2.0, 3.0, 4.0];

fn middle(id: &str, group: &str) -> f64 {
    lines::whole_of_group(id, group).map_or(f64::NAN, species::Figure::middle)
}

/// Power that holds the warm air at a line when the room has cooled as far as it does, W.
fn holding_w(model: &Model, line_c: f64, room_c: f64) -> Result<f64, NetworkFault> {
    let with = |watts: f64| {
        let all: Vec<Drive> =
            (0..model.heater_count()).map(|heater| Drive::Gives(if heater == 0 { watts } else { 0.0 })).collect();
        Ok::<f64, NetworkFault>(model.settled(&all, room_c)?.spot(Spot::WarmAir))
    };
    const TRIED_W: f64 = 20.0;
    let (off, on) = (with(0.0)?, with(TRIED_W)?);
    Ok(((line_c - off) * TRIED_W / (on - off)).max(0.0))
}

/// Power that a bottle gives on average between two fillings, to air at a line, W.
fn bottle_w(litres: f64, filled_c: f64, line_c: f64, every_h: f64) -> f64 {
    let gives_w_k = middle("twin_bottle", "gives") * litres / middle("twin_bottle", "litres");
    let slow_s = LITRE_J_K * litres / gives_w_k;
    let span_s = every_h * 3600.0;
    gives_w_k * (filled_c - line_c) * (1.0 - (-span_s / slow_s).exp()) * slow_s / span_s
}

/// Adds the tables.
pub fn add(
    answer: &mut Reckoning,
    described: &Description,
    asked: &Asked,
    spread: &Spread,
    lines_of: &Lines,
) -> Result<(), NetworkFault> {
    let line = lines_of.act.value;
    let left = middle("twin_wrap", "air left");
    let wraps = [
        ("nothing", 0.0, 1.0),
        ("lid covered", 0.0, left),
        ("blanket all round", middle("twin_wrap", "blanket"), left),
        ("foam board all round", middle("twin_wrap", "foam"), left),
    ];
    let begun: Vec<(&Model, State)> =
        spread.models().iter().filter_map(|model| Some((model, start(described, model).ok()?))).collect();
    let mut rows = Vec::new();
    for (says, resistance, passes) in wraps {
        let cooling: Vec<Cooling> = begun
            .iter()
            .filter_map(|(model, begin)| {
                let wrapped = model.wrapped(resistance, passes);
                let held: Vec<Drive> = begin.powers().iter().map(|power| Drive::Gives(power.watts())).collect();
                let in_wrap = wrapped.settled(&held, begin.room_c()).ok()?;
                Cooling::from(&wrapped, begin, &in_wrap, asked.outdoors_c).ok()
            })
            .collect();
        let cell = |line: f64| {
            let range = Range::of_times(cooling.iter().map(|one| one.hours_to(line)));
            range.map_or(Cell::Nothing, |range| Cell::Is(range, Unit::Hours))
        };
        rows.push(vec![Cell::Says(says.to_owned()), cell(line), cell(lines_of.urgent.value)]);
    }
    answer.tables.push(Table::new(
        "wraps",
        "What a wrap buys",
        [
            ("wrap", "wrap"),
            ("act-hours", &format!("hours to {line:.0} °C")),
            ("urgent-hours", &format!("hours to {:.0} °C", lines_of.urgent.value)),
        ],
        rows,
    ));
    // Bottles and a battery are reckoned for the wrapped enclosure: heat without a wrap is wasted.
    let at_end = |model: &Model| room_after(model, asked.outdoors_c, 12.0 * 3600.0);
    let blanket = middle("twin_wrap", "blanket");
    let hold = spread.range(|model| holding_w(&model.wrapped(blanket, left), line, at_end(model)));
    let Some(hold) = hold else { return Ok(()) };
    let says = format!("heat that holds {line:.0} °C in a blanket");
    push(answer, "watts-to-hold", says, Some(hold), Unit::Watts, None);
    if hold.high <= 0.5 {
        answer.says.push(format!("In this room a blanket alone holds {line:.0} °C."));
        return Ok(());
    }
    bottles(answer, asked, hold, line);
    battery(answer, asked, hold);
    Ok(())
}

fn bottles(answer: &mut Reckoning, asked: &Asked, hold: Range, line: f64) {
    let litres = asked.bottle_l.unwrap_or_else(|| middle("twin_bottle", "litres"));
    let filled = asked.bottle_c.unwrap_or_else(|| middle("twin_bottle", "filled at"));
    let count = |hold_w: f64, every_h: f64| (hold_w / bottle_w(litres, filled, line, every_h)).ceil();
    let rows = REFILLS_H
        .into_iter()
        .map(|every| {
            let range =
                Range { low: count(hold.low, every), mid: count(hold.mid, every), high: count(hold.high, every) };
            vec![Cell::Is(Range::exactly(every), Unit::Hours), Cell::Is(range, Unit::Number)]
        })
        .collect();
    answer.tables.push(Table::new("bottles", format!("Bottles of {litres} l filled at {filled:.0} °C, in a cloth, beside or over the animal's box and never against it"), [("refilled-every", "refilled every"), ("bottles", "bottles in the enclosure")], rows));
}

fn battery(answer: &mut Reckoning, asked: &Asked, hold: Range) {
    let Some(share) = lines::whole("twin_battery") else { return };
    let Some(wh) = asked.battery_wh else {
        let needed = |hold_w: f64, share: f64| hold_w * 12.0 / share;
        let range = Range {
            low: needed(hold.low, share.high),
            mid: needed(hold.mid, share.middle()),
            high: needed(hold.high, share.low),
        };
        push(answer, "battery-needed", "battery for twelve hours, in a blanket", Some(range), Unit::WattHours, None);
        return;
    };
    let lasts = |hold_w: f64, share: f64| if hold_w <= 0.0 { f64::INFINITY } else { wh * share / hold_w };
    let range = Range {
        low: lasts(hold.high, share.low),
        mid: lasts(hold.mid, share.middle()),
        high: lasts(hold.low, share.high),
    };
    push(answer, "battery-hours", "what this battery holds, in a blanket", Some(range), Unit::Hours, None);
    if range.mid.is_finite() && range.mid < f64::from(HOURS) {
        answer.says.push(format!("A battery of {wh:.0} Wh holds it for {}.", words::hours(range)));
    }
}
