//! One change at a time: what each does to the humidity of warm and cool side, and which helps most.

use super::{Now, Side, Wanted, dew, misting};
use crate::answer::Severity;
use crate::lines;
use crate::twin::guesses::{Unknown, floor_of};
use crate::twin::held::held;
use crate::twin::material::Floor;
use crate::twin::model::has_mesh;
use crate::twin::moisture::{Wet, bowl, damp_floor, humidity_pct, saturated_kg_m3};
use crate::twin::warmth::push;
use crate::twin::{Description, Model, State, words};
use crate::what_if::{Cell, Range, Reckoning, Table, Unit, Warning};
use records::facts::{Lid, Spot};

/// A change that a keeper can make.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Change {
    /// A mesh lid covered, %.
    Cover(f64),
    /// A bowl that many times as wide.
    Bowl(f64),
    /// The bowl on the warm side.
    BowlWarm,
    /// A hide with damp moss.
    Moss,
    /// A part of the floor kept damp.
    Damp,
    /// Half of the openings closed.
    FewerVents,
    /// That many times the openings.
    MoreVents(f64),
    /// A mesh lid wholly open.
    Uncover,
    /// Dry substrate in place of moist.
    DryFloor,
}

pub(super) fn of_damp(group: &str) -> f64 {
    lines::group("twin_damp", group).value
}

/// Damp moss in a hide at the cool end: what its opening lets through and what the moss gives, one after the other.
pub(super) fn moss(model: &Model, state: &State) -> Wet {
    let (wet, exchange) = moss_inside(model, state);
    let through = 1.0 / (1.0 / (wet.area_m2 * wet.transfer_m_s) + 1.0 / exchange);
    Wet { transfer_m_s: through / wet.area_m2, ..wet }
}

/// The moss itself, and what its hide exchanges with the box, m³/s.
fn moss_inside(model: &Model, state: &State) -> (Wet, f64) {
    let transfer = model.transfer_m_s() * of_damp("moss in a hide, share of a free water surface");
    let (air_c, floor_c) = (state.spot(Spot::CoolAir), state.spot(Spot::CoolSurface));
    let exchange = model.values().of(Unknown::HideExchange);
    // In a humidity of a box that never asked for a hide the figure is not there: its middle serves.
    let exchange = if exchange.is_nan() {
        lines::whole("twin_hide_exchange").map_or(f64::NAN, |one| one.middle())
    } else {
        exchange
    };
    (Wet::on_floor(of_damp("moss"), transfer, air_c, floor_c), exchange / 3600.0)
}

/// Humidity in a hide with damp moss, %.
fn hide_pct(now: &Now) -> f64 {
    let (wet, exchange) = moss_inside(&now.model, &now.state);
    let floor_c = now.state.spot(Spot::CoolSurface);
    let given = wet.area_m2 * wet.transfer_m_s;
    let kg_m3 = (given * saturated_kg_m3(floor_c) + exchange * now.vapour.kg_m3) / (given + exchange);
    humidity_pct(kg_m3, floor_c)
}

impl Change {
    /// What is done.
    fn says(self) -> String {
        match self {
            Change::Cover(pct) => format!("cover {pct:.0} % of the mesh"),
            Change::Bowl(times) if times < 1.0 => "a bowl half as wide".into(),
            Change::Bowl(times) if times < 2.0 => "a bowl half as wide again".into(),
            Change::Bowl(_) => "a bowl twice as wide".into(),
            Change::BowlWarm => "the bowl on the warm side".into(),
            Change::Moss => "a hide with damp moss".into(),
            Change::Damp => {
                format!("damp substrate on {:.0} % of the floor", 100.0 * of_damp("floor to dampen"))
            }
            Change::FewerVents => "half of the openings closed".into(),
            Change::MoreVents(times) => format!("{times:.0} times the openings"),
            Change::Uncover => "the whole mesh open".into(),
            Change::DryFloor => "dry substrate".into(),
        }
    }

    /// What goes with it.
    fn mind(self) -> &'static str {
        match self {
            Change::Cover(_) => "nothing over or beside a lamp or emitter, and a strip stays open",
            Change::Bowl(times) if times < 1.0 => "never too small to drink from",
            Change::Bowl(_) => "shallow enough to climb out of, fresh water as ever",
            Change::BowlWarm => "not over a mat and not under a lamp; refill more often",
            Change::Moss => "wrung out until it does not drip; changed before it smells",
            Change::Damp => "at the cool end only, damp and not wet; the rest stays dry",
            Change::FewerVents => "never all: still air breeds mould",
            Change::MoreVents(_) => "no draught on the animal; the heater works harder",
            Change::Uncover => "the heater works harder",
            Change::DryFloor => "wet parts out today",
        }
    }

    /// Is it another way of doing the same?
    fn is_like(self, other: Change) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }

    /// One way in which the enclosure may be, with it done.
    fn then(self, described: &Description, now: &Now) -> Option<Now> {
        let mut wet = now.wet.clone();
        let mut air = now.air;
        match self {
            Change::Cover(pct) => return covered(described, now, 1.0 - pct / 100.0),
            Change::Uncover => return covered(described, now, 1.0),
            Change::Bowl(times) => wet.first_mut()?.area_m2 *= times * times,
            Change::BowlWarm => *wet.first_mut()? = bowl(&now.model, &now.state, true, 1.0)?,
            Change::Moss => wet.push(moss(&now.model, &now.state)),
            Change::Damp => {
                let wetness = of_damp("damp, share of a free water surface");
                wet.push(damp_floor(&now.model, &now.state, of_damp("floor to dampen"), wetness));
            }
            Change::FewerVents => air = air.vented(0.5),
            Change::MoreVents(times) => air = air.vented(times),
            Change::DryFloor => wet.truncate(1),
        }
        // The heat of it is small beside that of the box, so the temperatures stay.
        let vapour = air.settles(&wet)?;
        Some(Now { model: now.model.clone(), state: now.state.clone(), air, wet, vapour })
    }
}

/// With that share of the mesh open: less air takes less heat along, so the temperatures are reckoned anew.
fn covered(described: &Description, now: &Now, open: f64) -> Option<Now> {
    let model = now.model.wrapped(0.0, (open / open_now(described)).powf(1.25));
    let state = model.settled(&held(described, &model, false), now.state.room_c()).ok()?;
    Now::at(described, &model, state).ok()
}

/// The share of the mesh that is open now. Of a lid that is mesh in part nobody knows more than what is open.
fn open_now(described: &Description) -> f64 {
    let covered = described.enclosure.lid_covered_pct.filter(|_| described.enclosure.lid == Some(Lid::Mesh));
    1.0 - covered.unwrap_or(0.0).min(99.0) / 100.0
}

/// A bowl wider than this share of the shorter side leaves no room beside it.
const WIDEST_BOWL: f64 = 0.6;

/// The changes that this enclosure has room for.
fn possible(described: &Description, side: Side, bowl_cm: f64) -> Vec<Change> {
    let mesh = has_mesh(described);
    let covered = 100.0 * (1.0 - open_now(described));
    let mut all = Vec::new();
    if side != Side::Damp {
        if mesh {
            all.extend([50.0, 75.0, 90.0].into_iter().filter(|pct| covered + 5.0 < *pct).map(Change::Cover));
        } else {
            all.push(Change::FewerVents);
        }
        let most = WIDEST_BOWL * described.length_cm.min(described.width_cm);
        all.extend([1.5, 2.0].into_iter().filter(|times| bowl_cm * times <= most).map(Change::Bowl));
        all.push(Change::BowlWarm);
        if described.enclosure.humid_hide != Some(true) {
            all.push(Change::Moss);
        }
        if floor_of(described) != Floor::Moist {
            all.push(Change::Damp);
        }
    }
    if side != Side::Dry {
        if floor_of(described) == Floor::Moist {
            all.push(Change::DryFloor);
        }
        if mesh && 5.0 < covered {
            all.push(Change::Uncover);
        }
        if !mesh {
            all.extend([Change::MoreVents(2.0), Change::MoreVents(4.0)]);
        }
        all.push(Change::Bowl(0.5));
    }
    all
}

struct Row {
    change: Change,
    then: Vec<Now>,
    cool: Range,
    warm: Range,
    wet_pct: f64,
}

impl Row {
    fn of(change: Change, described: &Description, sets: &[Now]) -> Option<Row> {
        let then: Vec<Now> = sets.iter().filter_map(|now| change.then(described, now)).collect();
        let over = |spot: Spot| Range::of(then.iter().map(|now| now.pct(spot)));
        let (cool, warm) = (over(Spot::CoolAir)?, over(Spot::WarmAir)?);
        let wet_pct = wet_pct(&then);
        Some(Row { change, then, cool, warm, wet_pct })
    }
}

fn wet_pct(sets: &[Now]) -> f64 {
    100.0 * sets.iter().filter(|now| dew::is_wet(now)).count() as f64 / sets.len().max(1) as f64
}

/// The table of changes, and the one that helps most.
pub(super) fn changes(
    answer: &mut Reckoning,
    described: &Description,
    wanted: Option<&Wanted>,
    side: Side,
    sets: &[Now],
) {
    let (Some(cool), Some(warm)) = (
        Range::of(sets.iter().map(|now| now.pct(Spot::CoolAir))),
        Range::of(sets.iter().map(|now| now.pct(Spot::WarmAir))),
    ) else {
        return;
    };
    let bowl_cm = Range::of(sets.iter().map(|now| now.model.values().of(Unknown::Bowl))).map_or(0.0, |bowl| bowl.mid);
    let rows: Vec<Row> =
        possible(described, side, bowl_cm).into_iter().filter_map(|change| Row::of(change, described, sets)).collect();
    let cells = |says: String, cool_then: Range, warm_then: Range, mind: String| {
        vec![
            Cell::Says(says),
            Cell::Is(cool, Unit::Humidity),
            Cell::Is(cool_then, Unit::Humidity),
            Cell::Is(warm, Unit::Humidity),
            Cell::Is(warm_then, Unit::Humidity),
            Cell::Says(mind),
        ]
    };
    let likely = lines::high("twin_sure").value;
    let is_wet_now = likely <= wet_pct(sets);
    let runs = |row: &Row| likely <= row.wet_pct && !is_wet_now;
    let mut table: Vec<Vec<Cell>> = rows
        .iter()
        .map(|row| {
            let mind = if runs(row) { "too much: water settles on walls or floor" } else { row.change.mind() };
            cells(row.change.says(), row.cool, row.warm, mind.to_owned())
        })
        .collect();
    if side != Side::Damp {
        table.extend(misting::misting(answer, wanted, sets, &cells));
        hide(answer, sets);
        answer.warnings.push(Warning {
            key: "damp-not-wet",
            severity: Severity::Note,
            says: "Damp at most, never wet, and never the whole floor: skin that lies wet blisters.".into(),
            does: "Leave a dry place to lie at each end, wring moss out, and keep water off everything electric."
                .into(),
            source: Some(lines::source("wet_floor")),
            caution: Some("wiring"),
        });
    }
    if side == Side::Dry {
        misting::beyond(answer);
    }
    let columns = [
        ("change", "what is changed"),
        ("cool-now", "cool side now"),
        ("cool-then", "cool side then"),
        ("warm-now", "warm side now"),
        ("warm-then", "warm side then"),
        ("mind", "what goes with it"),
    ];
    answer.tables.push(Table::new("changes", "one change at a time", columns, table));
    answer.sources.push(lines::source("twin_damp"));
    if rows.iter().any(|row| matches!(row.change, Change::Cover(_))) {
        answer.cautions.push("heat-and-fire");
    }
    if let Some(wanted) = wanted.filter(|_| side != Side::Right) {
        let off = |row: &Row| (row.cool.mid - wanted.mid).abs();
        let mut good: Vec<&Row> = rows.iter().filter(|row| !runs(row)).collect();
        good.sort_by(|a, b| off(a).total_cmp(&off(b)));
        told(answer, described, wanted, cool, &good);
    }
}

/// The one change that helps most, in words; and a second where it is not enough. `good` are the changes, the best first.
fn told(answer: &mut Reckoning, described: &Description, wanted: &Wanted, cool: Range, good: &[&Row]) {
    let helps = |row: &Range| (row.mid - wanted.mid).abs() + 1.0 < (cool.mid - wanted.mid).abs();
    let Some(best) = good.first().filter(|row| helps(&row.cool)) else {
        answer.says.push("No single change of the table brings it nearer to what is wanted.".into());
        return;
    };
    let key = "best-change-cool-air";
    let says = format!("humidity of the cool air: {}", best.change.says());
    push(answer, key, says, Some(best.cool), Unit::Humidity, Some(Spot::CoolAir));
    answer.says.push(format!(
        "What helps most: {}; then the cool side has {} ({}).",
        best.change.says(),
        words::percent(best.cool),
        best.change.mind()
    ));
    if (wanted.low..=wanted.high).contains(&best.cool.mid) {
        return;
    }
    let second = good.iter().find(|row| !row.change.is_like(best.change) && helps(&row.cool));
    // A lid is changed first: with it the temperatures are new, and what is wet is reckoned in them.
    let both = second.and_then(|second| {
        let is_lid = matches!(second.change, Change::Cover(_) | Change::Uncover);
        let (change, on) = if is_lid { (best.change, &second.then) } else { (second.change, &best.then) };
        Some((second.change, Row::of(change, described, on)?))
    });
    let both = both.filter(|(_, row)| (row.cool.mid - wanted.mid).abs() < (best.cool.mid - wanted.mid).abs());
    let Some((change, row)) = both else {
        answer.says.push("That alone is not enough, and no second change of the table adds to it.".into());
        return;
    };
    let key = "two-changes-cool-air";
    let says = format!("humidity of the cool air: {}, and {}", best.change.says(), change.says());
    push(answer, key, says, Some(row.cool), Unit::Humidity, Some(Spot::CoolAir));
    let wet = if lines::high("twin_sure").value <= row.wet_pct { ", but water settles on walls or floor" } else { "" };
    answer.says.push(format!(
        "That alone is not enough: with {} as well it has {}{wet} ({}).",
        change.says(),
        words::percent(row.cool),
        change.mind()
    ));
}

fn hide(answer: &mut Reckoning, sets: &[Now]) {
    let inside = Range::of(sets.iter().map(hide_pct));
    push(answer, "hide", "humidity in a hide with damp moss", inside, Unit::Humidity, Some(Spot::HumidHide));
}
