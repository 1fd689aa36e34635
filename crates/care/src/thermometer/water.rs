//! Two hygrometers: the same water in air of two temperatures reads as two relative humidities.

use science::physics::psychrometrics::{MoistAir, humidity_after_warming_percent};
use units::{Celsius, Pascals, RelativeHumidity};

use super::{Part, Told, error_k, guess, likely, name};
use crate::answer::Severity;
use crate::lines;
use crate::twin::words;
use crate::what_if::{Range, Unit, Warning};

fn air(c: f64, pct: f64) -> Option<MoistAir> {
    MoistAir::from_relative_humidity(Celsius::new(c)?, RelativeHumidity::from_percent(pct)?, Pascals::ATMOSPHERE)
}

fn warmed(from: f64, pct: f64, to: f64) -> Option<f64> {
    humidity_after_warming_percent(Celsius::new(from)?, RelativeHumidity::from_percent(pct)?, Celsius::new(to)?)
}

/// Dew point of air that a thermometer and a hygrometer with their errors show.
fn dew_point(c: f64, pct: f64, error_k: f64, error_pct: f64) -> Option<Range> {
    let values = likely(-error_k, 0.0, error_k, 7).flat_map(|off| {
        likely(-error_pct, 0.0, error_pct, 7).map(move |points| {
            let pct = (pct + points).clamp(0.1, 100.0);
            air(c + off, pct).and_then(|air| air.dew_point()).map_or(f64::NAN, Celsius::degrees)
        })
    });
    Range::of(values)
}

/// What the first hygrometer means at the place of the second, and whether both tell the same water. `None` where no
/// humidity was told.
pub(super) fn part(told: &Told, first: f64, second: f64) -> Option<Part> {
    // One hygrometer is turned into what the other place has.
    let (here, from, pct, there, to, other) = match (told.first.pct, told.second.pct) {
        (Some(pct), other) => (&told.first, first, pct, &told.second, second, other),
        (None, Some(pct)) => (&told.second, second, pct, &told.first, first, None),
        (None, None) => return None,
    };
    let mut part = Part::default();
    let (error_pct, error) = (lines::high("sense_hygrometer").value, error_k(told));
    let (name_here, name_there) = (name(here, there, "first place"), name(there, here, "second place"));
    let expected = warmed(from, pct, to)?;
    let factor = warmed(from, 100.0, to)? / 100.0;
    // A kelvin of error at either thermometer acts as a change of the saturation pressure.
    let per_k = 1.0 - warmed(to, 100.0, to + 1.0)? / 100.0;
    let from_air = factor * error_pct;
    let from_heat = expected * per_k * error * 2f64.sqrt();
    let deviation = from_air.hypot(from_heat) / 3f64.sqrt();
    let spread = 1.281_552 * deviation;
    let range = Range { low: (expected - spread).max(0.0), mid: expected, high: expected + spread };
    let says = format!("what {pct:.0} % at {from:.1} °C is at {to:.1} °C");
    part.amount("humidity-expected", says, range, Unit::Humidity, there.spot);
    let hygrometer = guess(
        "hygrometer-error",
        "error of each hygrometer, to either side",
        Unit::Humidity,
        "sense_hygrometer",
        from_air * from_air,
        None,
    );
    let thermometer = guess(
        "thermometer-error",
        "error of each thermometer, to either side",
        Unit::Kelvin,
        "sense_thermometer",
        from_heat * from_heat,
        Some("accuracy_k"),
    );
    let all = from_air * from_air + from_heat * from_heat;
    for mut one in hygrometer.into_iter().chain(thermometer.filter(|_| told.accuracy_k.is_none())) {
        one.weight /= all;
        part.guesses.push(one);
    }
    part.sources.push(lines::source("sense_hygrometer"));
    let dew = dew_point(from, pct, error, error_pct);
    let dew_key = if std::ptr::eq(here, &told.first) { "dew-point-first" } else { "dew-point-second" };
    if let Some(dew) = dew {
        part.amount(dew_key, format!("dew point by the hygrometer of the {name_here}"), dew, Unit::Celsius, here.spot);
    }
    let turned = format!("{pct:.0} % at {} is {} at {}", exactly(from), words::percent(range), exactly(to));
    match other {
        None => part.says.push(format!(
            "The same water: {turned}. Relative humidity falls when the same air is warmed, and the dew point stays."
        )),
        Some(shown) => compared(
            &mut part,
            (&turned, expected, deviation),
            shown,
            (to, error, error_pct),
            (&name_here, &name_there),
            there.spot,
        ),
    }
    if let Some(dew) = dew.filter(|_| 100.0 < range.low) {
        part.warnings.push(Warning {
            key: "dew-settles",
            severity: Severity::Watch,
            says: format!("The {name_there} lies under the dew point of {}: water settles there.", words::degrees(dew)),
            does: "Let more air through or mist less; what is always wet is dried.".into(),
            source: Some(lines::source("wet_floor")),
            caution: None,
        });
    }
    Some(part)
}

/// Both hygrometers side by side.
fn compared(
    part: &mut Part,
    (turned, expected, deviation): (&str, f64, f64),
    shown: f64,
    (c, error, error_pct): (f64, f64, f64),
    (name_here, name_there): (&str, &str),
    spot: Option<records::facts::Spot>,
) {
    let own = error_pct / 3f64.sqrt();
    let both = deviation.hypot(own);
    let allowed = 2.0 * both;
    let points = shown - expected;
    let range = Range { low: points - 1.281_552 * both, mid: points, high: points + 1.281_552 * both };
    part.amount(
        "humidity-difference",
        "second hygrometer over what the first means there, points",
        range,
        Unit::Humidity,
        spot,
    );
    part.amount(
        "humidity-both-right-up-to",
        "what two such hygrometers may differ by, points",
        Range::exactly(allowed),
        Unit::Humidity,
        None,
    );
    if let Some(dew) = dew_point(c, shown, error, error_pct) {
        part.amount(
            "dew-point-second",
            format!("dew point by the hygrometer of the {name_there}"),
            dew,
            Unit::Celsius,
            spot,
        );
    }
    let away = points.abs();
    if away <= allowed {
        part.says.push(format!(
            "Both hygrometers tell of the same water: {turned}, and {shown:.0} % is shown there. Relative humidity falls when the same air is warmed; the dew point stays."
        ));
        return;
    }
    let wetter = if 0.0 < points { name_there } else { name_here };
    part.says.push(format!(
        "The hygrometers disagree: {turned}, but {shown:.0} % is shown there, {away:.0} points off where {allowed:.0} could be error."
    ));
    part.step(
        format!("Look what lies under the hygrometer of the {wetter}: damp moss, a bowl, wet substrate, or a spray not long ago."),
        "Near something wet the air is damper than the rest; after misting it takes a while to even out.",
    );
    part.step(
        "Lay both hygrometers side by side for an hour in the room, away from the enclosure.",
        "At one place they must show the same, give or take; only there can one be called wrong.",
    );
    let salt = lines::low("sense_salt");
    part.step(
        format!(
            "Salt: put the hygrometer with a bottle cap of table salt, damp as wet sand, into a tight bag for eight hours. It shows {:.0} % there.",
            salt.value
        ),
        "By how much it is off there is about how far off it is now: write it on it, or replace it.",
    );
    part.sources.push(salt.source.clone());
    let off = lines::low("humidity_off");
    part.warnings.push(Warning {
        key: "hygrometers-disagree",
        severity: Severity::Watch,
        says: "Which of the two tells the humidity of the air is not known yet.".into(),
        does: "Do not mist or dry by either before they were compared at one place.".into(),
        source: Some(off.source),
        caution: Some("sensors"),
    });
}

fn exactly(c: f64) -> String {
    format!("{c:.1}\u{a0}°C").replace(".0\u{a0}", "\u{a0}")
}
