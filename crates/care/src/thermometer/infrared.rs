//! An infrared reading, corrected by what it was pointed at.

use records::choice::Choice;
use records::choices;
use records::facts::Spot;
use records::fault::nearest;
use records::fields::{Limits, Reader};
use science::physics::infrared::{Setting, corrected, emissivity_from_contact, spot};
use science::physics::radiation::Emissivity;
use science::physics::thermometer::{Reading, Sense, two_thermometers};
use species::Figure;
use units::{Celsius, Metres};

use super::{Part, Side, TEMPERATURE_C, Told as All, error_k, guess, likely, range_of};
use crate::answer::{Severity, SourceRef};
use crate::draft::Line;
use crate::lines;
use crate::twin::words;
use crate::what_if::{Guess, Range, Unit, Warning};

choices!(
    /// What lay between instrument and surface.
    Between, "thing between", { Nothing = "nothing", Pane = "pane", Mesh = "mesh" }
);

/// What the form offers to lie between.
pub(super) fn between() -> Vec<(&'static str, String)> {
    let words = |one: &Between| match one {
        Between::Nothing => "nothing between",
        Between::Pane => "glass or acrylic pane",
        Between::Mesh => "mesh",
    };
    Between::ALL.iter().map(|one| (one.key(), words(one).to_owned())).collect()
}

const SURFACES: &str = "sense_ir_surface";

/// The surfaces whose emissivity is known.
pub(super) fn surfaces() -> Vec<(&'static str, String)> {
    let groups = lines::rule(SURFACES).map_or(&[][..], |rule| &rule.groups);
    groups.iter().map(|one| (one.group.as_str(), one.group.replace('-', " "))).collect()
}

/// What was told of an infrared reading.
#[derive(Clone, Copy, Debug)]
pub(super) struct Told {
    c: f64,
    surface: Option<&'static str>,
    between: Between,
    surroundings_c: Option<f64>,
    set: f64,
    distance_cm: Option<f64>,
    ratio: Option<f64>,
    target_cm: Option<f64>,
}

pub(super) fn read(reader: &mut Reader<'_>) -> Option<Told> {
    let c = reader.number("ir_c", Limits::new(-50.0, 400.0, "°C"));
    let text = reader.text("ir_surface");
    let known = surfaces();
    let surface = text.as_deref().and_then(|text| {
        let found = known.iter().find(|(key, words)| *key == text || words == text).map(|(key, _)| *key);
        if found.is_none() {
            let keys = || known.iter().map(|(key, _)| *key);
            let near = nearest(text, keys(), 3);
            let mend = if near.is_empty() {
                format!("choose one of: {}; or leave it open", keys().collect::<Vec<_>>().join(", "))
            } else {
                format!("did you mean {}? Else leave it open", near.join(" or "))
            };
            reader.object(
                "ir_surface",
                format!("`{text}` is no surface whose emissivity is known (`ir_surface`)"),
                mend,
            );
        }
        found
    });
    let between = reader.choice("ir_through").unwrap_or(Between::Nothing);
    let told = Told {
        c: c.unwrap_or(f64::NAN),
        surface,
        between,
        surroundings_c: reader.number("surroundings_c", TEMPERATURE_C),
        set: reader.number("ir_set", Limits::new(0.1, 1.0, "parts of 1")).unwrap_or(lines::low("sense_ir_set").value),
        distance_cm: reader.number("ir_distance_cm", Limits::new(0.5, 1_000.0, "centimetres")),
        ratio: reader.number("ir_ratio", Limits::new(0.5, 100.0, "times the spot")),
        target_cm: reader.number("ir_target_cm", Limits::new(0.1, 500.0, "centimetres")),
    };
    let further = text.is_some() || told.distance_cm.is_some() || told.target_cm.is_some();
    if c.is_none() && further && !reader.is_faulty() {
        reader.object("ir_c", "an infrared thermometer is told of, but not what it showed", "add `ir_c`");
    }
    c.map(|_| told)
}

/// What is known of the surface: as chosen, else what skin, wood, soil and paper have.
fn emissivity(told: &Told) -> Option<&'static Figure> {
    told.surface.map_or_else(|| lines::whole("ir_emissivity"), |name| lines::whole_of_group(SURFACES, name))
}

/// What is mirrored in the surface: low, middle, high, and where the guess comes from.
fn surroundings(told: &Told, room_c: Option<f64>) -> Option<(f64, f64, f64, Option<SourceRef>)> {
    if let Some(c) = told.surroundings_c {
        return Some((c, c, c, None));
    }
    let figure = lines::whole("twin_room")?;
    match room_c {
        Some(c) => Some((c, c, c, None)),
        None => Some((figure.low, figure.middle(), figure.high, Some(SourceRef::of(figure)))),
    }
}

fn truth(told: &Told, shown_c: f64, emissivity: f64, around_c: f64) -> Option<f64> {
    let around = Celsius::new(around_c)?;
    let set = Setting { emissivity: Emissivity::new(told.set)?, reflected: around };
    Some(corrected(Celsius::new(shown_c)?, &set, Emissivity::new(emissivity)?, around)?.degrees())
}

/// What an infrared reading says.
pub(super) fn part(all: &All, told: &Told, room_c: Option<f64>) -> Part {
    let mut part = Part::default();
    part.sources.push(lines::source("sense_ir_set"));
    size_of_spot(&mut part, told);
    let shown = words::degrees(Range::exactly(told.c));
    match told.between {
        Between::Nothing => {}
        Between::Pane => {
            part.says.push(format!("The {shown} are the temperature of the pane, not of anything behind it."));
            part.warnings.push(Warning {
                key: "pane-measured",
                severity: Severity::Watch,
                says: "Glass and acrylic let no such radiation through: through a pane the pane is measured.".into(),
                does: "Open the door and point again.".into(),
                source: Some(lines::source("ir_emissivity")),
                caution: None,
            });
            return part;
        }
        Between::Mesh => {
            part.says
                .push(format!("The {shown} are a mixture of the mesh and of what lies behind it, and tell neither."));
            part.warnings.push(Warning {
                key: "mesh-measured",
                severity: Severity::Watch,
                says: "Through a mesh its wires are measured too, warm from a lamp or cool from the room.".into(),
                does: "Open the lid and point again.".into(),
                source: Some(lines::source("ir_emissivity")),
                caution: None,
            });
            return part;
        }
    }
    let Some(figure) = emissivity(told) else { return part };
    let surface = told.surface.map_or_else(|| "surface".to_owned(), |name| name.replace('-', " "));
    part.sources.push(SourceRef::of(figure));
    let shiny = lines::low("sense_ir_shiny");
    if figure.high < shiny.value {
        mirrored(&mut part, told, &surface, &shiny);
        return part;
    }
    let Some((low, mid, high, guessed)) = surroundings(told, room_c) else { return part };
    let Some(error) = lines::whole("sense_ir_error") else { return part };
    let own = error.high;
    let samples = likely(figure.low, figure.middle(), figure.high, 9).flat_map(move |emissivity| {
        likely(low, mid, high, 5).flat_map(move |around| {
            likely(-own, 0.0, own, 7).filter_map(move |off| truth(told, told.c + off, emissivity, around))
        })
    });
    let middle = truth(told, told.c, figure.middle(), mid);
    let Some(range) = Range::of(samples).zip(middle).map(|(range, mid)| Range { mid, ..range }) else {
        part.says.push("No surface would look like that: emissivity and surroundings do not fit the reading.".into());
        part.untold.push("The temperature of the surface: look again at what it was pointed at.".into());
        return part;
    };
    let place = [&all.first, &all.second].into_iter().filter(|side| side.c.is_some()).find_map(on_surface);
    part.amount(
        "infrared-surface",
        format!("true temperature of the {surface}"),
        range,
        Unit::Celsius,
        place.map(|(spot, _)| spot),
    );
    part.amount("infrared-correction", "true temperature over the one shown", minus(range, told.c), Unit::Kelvin, None);
    part.says.push(format!("The {surface} is at {}: {shown} were shown.", words::degrees(range)));
    weigh(&mut part, told, figure, (low, mid, high, guessed), own);
    if told.surface == Some("glass") {
        part.untold.push("What lies behind the glass: only the glass was measured.".into());
    }
    if let Some((spot, contact)) = place {
        by_contact(&mut part, all, told, (range, mid), (spot, contact));
    }
    part.step(
        "Let the instrument lie in the room for half an hour before it is used.",
        "It compares with its own case: carried from cold to warm it reads wrong until it has followed.",
    );
    part
}

fn minus(range: Range, c: f64) -> Range {
    Range { low: range.low - c, mid: range.mid - c, high: range.high - c }
}

/// A thermometer that lies on a surface, with its reading.
fn on_surface(side: &Side) -> Option<(Spot, f64)> {
    let spot = side.spot.filter(|spot| matches!(spot, Spot::WarmSurface | Spot::CoolSurface))?;
    Some((spot, side.c?))
}

/// A surface that shows what is mirrored in it.
fn mirrored(part: &mut Part, told: &Told, surface: &str, shiny: &Line) {
    part.says.push(format!(
        "{} tell next to nothing: shiny {surface} shows the warmth of what is mirrored in it.",
        words::degrees(Range::exactly(told.c))
    ));
    part.warnings.push(Warning {
        key: "shiny-surface",
        severity: Severity::Watch,
        says: "Bare metal may be much hotter than an infrared thermometer shows.".into(),
        does: "Lay a dull tile on it, give it half an hour and measure the tile; no tape inside, it tears skin.".into(),
        source: Some(shiny.source.clone()),
        caution: Some("sensors"),
    });
    part.untold.push(format!("The temperature of the {surface}: a probe that lies on it tells it."));
}

/// The guesses behind the corrected temperature, each with its share of the spread.
fn weigh(
    part: &mut Part,
    told: &Told,
    figure: &'static Figure,
    (low, mid, high, guessed): (f64, f64, f64, Option<SourceRef>),
    own: f64,
) {
    let at = |emissivity: f64, around: f64, off: f64| truth(told, told.c + off, emissivity, around).unwrap_or(f64::NAN);
    let eps = figure.middle();
    let squares = [
        at(figure.low, mid, 0.0) - at(figure.high, mid, 0.0),
        at(eps, low, 0.0) - at(eps, high, 0.0),
        at(eps, mid, own) - at(eps, mid, -own),
    ]
    .map(|swing| swing * swing);
    let all: f64 = squares.iter().sum();
    let [by_surface, by_room, by_own] = squares.map(|square| square / all);
    let emissivity = Guess {
        key: "emissivity",
        says: "emissivity of the surface".into(),
        range: range_of(figure.low, eps, figure.high),
        unit: Unit::Number,
        weight: by_surface,
        source: SourceRef::of(figure),
        field: told.surface.is_none().then_some("ir_surface"),
    };
    part.guesses.push(emissivity);
    part.guesses.extend(guessed.map(|source| Guess {
        key: "surroundings",
        says: "what is mirrored in the surface".into(),
        range: range_of(low, mid, high),
        unit: Unit::Celsius,
        weight: by_room,
        source,
        field: Some("surroundings_c"),
    }));
    let says = "error of the infrared thermometer, to either side";
    part.guesses.extend(guess("infrared-error", says, Unit::Kelvin, "sense_ir_error", by_own, None));
}

/// A thermometer that lies on the surface beside the infrared reading.
fn by_contact(part: &mut Part, all: &All, told: &Told, (range, around): (Range, f64), (spot, contact): (Spot, f64)) {
    let reading = |value: f64, accuracy_k: f64| Celsius::new(value).map(|value| Reading { value, accuracy_k });
    let half = (range.high - range.low) / 2.0 * 3f64.sqrt() / 1.281_552;
    let sense = reading(range.mid, half).zip(reading(contact, error_k(all)));
    match sense.and_then(|(infrared, contact)| two_thermometers(infrared, contact)) {
        Some(Sense::Agree { .. }) => {
            part.says.push(format!("That agrees with the thermometer that lies on the {}.", spot.words()));
        }
        Some(Sense::Disagree { difference, allowed_k }) => {
            part.says.push(format!(
                "That is {:.1} K off the thermometer on the {}, where {allowed_k:.1} K could be error.",
                difference.kelvin().abs(),
                spot.words()
            ));
            part.step(
                "Press the probe flat on the surface, cover it with a bit of cork or foam for some minutes, and read again.",
                "A probe that only touches a warm floor shows something between floor and air.",
            );
        }
        None => {}
    }
    let set = Emissivity::new(told.set).zip(Celsius::new(around));
    let found = set.and_then(|(emissivity, reflected)| {
        let setting = Setting { emissivity, reflected };
        emissivity_from_contact(Celsius::new(contact)?, Celsius::new(told.c)?, &setting, reflected)
    });
    if let Some(found) = found {
        let says = "emissivity at which both would agree";
        part.amount("emissivity-by-contact", says, Range::exactly(found.value()), Unit::Number, Some(spot));
    }
}

/// Is the spot small enough for the target?
fn size_of_spot(part: &mut Part, told: &Told) {
    let Some(distance) = told.distance_cm.and_then(|cm| Metres::new(cm / 100.0)) else { return };
    let Some(window) = Metres::new(lines::low("sense_ir_window").value / 1000.0) else { return };
    let Some(usual) = lines::whole("sense_ir_ratio") else { return };
    let across = |ratio: f64| spot(distance, ratio, window).map_or(f64::NAN, Metres::metres) * 100.0;
    let range = match told.ratio {
        Some(ratio) => Range::exactly(across(ratio)),
        None => Range { low: across(usual.high), mid: across(usual.middle()), high: across(usual.low) },
    };
    part.amount("infrared-spot", "width of the spot that is measured", range, Unit::Centimetres, None);
    part.sources.push(SourceRef::of(usual));
    let times = lines::low("sense_ir_target");
    let wide = Range { low: times.value * range.low, mid: times.value * range.mid, high: times.value * range.high };
    part.amount("infrared-target", "width that a target needs at that distance", wide, Unit::Centimetres, None);
    let Some(target) = told.target_cm.filter(|target| *target < wide.mid) else { return };
    part.warnings.push(Warning {
        key: "spot-too-wide",
        severity: Severity::Watch,
        says: format!(
            "The spot is {:.1} cm wide, the target {target:.1} cm, and a target is to be twice as wide: what lies beside it is measured too.",
            range.mid
        ),
        does: format!("Go nearer, to {:.0} cm or less.", told.distance_cm.unwrap_or(f64::NAN) * target / wide.mid),
        source: Some(times.source),
        caution: None,
    });
}
