//! The unit that a value's name ends in, and what is likely for it.

/// A unit as it stands in the name of a value.
struct Unit {
    /// The part of the name.
    part: &'static str,
    /// As it is written beside a number.
    written: &'static str,
    /// What a value in a profile can be; a value outside is a slip or in the wrong unit.
    likely: (f64, f64),
}

const UNITS: [Unit; 11] = [
    Unit { part: "c", written: "°C", likely: (0.0, 50.0) },
    Unit { part: "pct", written: "%", likely: (0.0, 100.0) },
    Unit { part: "h", written: "h", likely: (0.0, 168.0) },
    Unit { part: "d", written: "d", likely: (0.0, 4000.0) },
    Unit { part: "weeks", written: "weeks", likely: (0.0, 30.0) },
    Unit { part: "week", written: "% a week", likely: (0.0, 50.0) },
    Unit { part: "y", written: "years", likely: (0.0, 60.0) },
    Unit { part: "m", written: "m", likely: (0.0, 9.0) },
    Unit { part: "g", written: "g", likely: (0.0, 150_000.0) },
    Unit { part: "n", written: "", likely: (0.0, 200.0) },
    Unit { part: "x", written: "x", likely: (0.0, 5.0) },
];

fn unit(name: &str) -> Option<&'static Unit> {
    let mut parts = name.rsplit(['_', '.']);
    parts.find_map(|part| UNITS.iter().find(|unit| unit.part == part))
}

/// The unit of a value by its name or path, as it is written beside a number: `temperature.night_min_c` is in `°C`.
/// Empty for a count or the number of a zone; `None` when the name has no unit.
pub fn unit_of(name: &str) -> Option<&'static str> {
    if name.ends_with("uv_zone") {
        return Some("");
    }
    unit(name).map(|unit| unit.written)
}

/// What a value of that name can be, low and high.
fn likely(name: &str) -> Option<(f64, f64)> {
    if name.ends_with("uv_zone") {
        return Some((1.0, 4.0));
    }
    unit(name).map(|unit| unit.likely)
}

/// How to mend a value of that name that cannot be; `None` when it can.
pub(crate) fn unlikely(name: &str, low: f64, high: f64) -> Option<String> {
    let (least, most) = likely(name).filter(|(least, most)| low < *least || *most < high)?;
    let written = unit_of(name).unwrap_or_default();
    let celsius = (low - 32.0) / 1.8;
    let fahrenheit = written == "°C" && (least..=most).contains(&celsius);
    let read_as = if fahrenheit { format!(" ({low} °F is {celsius:.1} °C)") } else { String::new() };
    let unit = if written.is_empty() { String::new() } else { format!(" in {written}") };
    Some(format!("give it{unit}, from {least} to {most}{read_as}"))
}

/// A value or a range, as it is written.
pub(crate) fn range(low: f64, high: f64) -> String {
    if low == high { low.to_string() } else { format!("{low} to {high}") }
}
