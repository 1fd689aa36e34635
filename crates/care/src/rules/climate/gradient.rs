//! A warm and a cool end: room to choose.

use records::facts::Spot;

use super::readings::{Climate, Felt, Time, capital, is_cooled, place, range};
use crate::answer::{Code, Finding, Severity};
use crate::draft::Draft;
use crate::lines;
use crate::rules::Rule;
use crate::view::{View, celsius};

/// The difference between warm and cool.
pub const RULE: Rule = Rule {
    key: "gradient",
    says: "Warm and cool end differ by at least 4 °C, unless the profile's own ranges leave less, in a winter rest or a power cut.",
    because: "An animal keeps its temperature by moving between places; where all are alike it cannot.",
    sources: &["gradient_min"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_cooled(view) || view.power_out().is_some() {
        return;
    }
    let temperature = &view.profile.temperature;
    let (Some(warm_range), Some(cool_range)) = (temperature.warm_ambient_c.first(), temperature.cool_ambient_c.first())
    else {
        return;
    };
    let line = lines::low("gradient_min");
    if warm_range.middle() - cool_range.middle() < line.value {
        return;
    }
    let nowhere_cool = [Code::CoolSideWarm, Code::WarmAirHot].into_iter().filter_map(|code| draft.found(code));
    if nowhere_cool.into_iter().any(|hot| hot.severity == Severity::Urgent) {
        return;
    }
    let climate = Climate::of(view);
    let Some((warm, cool)) = ends(&climate) else { return };
    if line.value <= warm.degrees - cool.degrees {
        return;
    }
    // Where each end is in its own range, the profile itself leaves so little.
    let slack = lines::low("temperature_off").value;
    let wanted =
        if warm.spot() == Spot::WarmSurface { temperature.basking_surface_c.first() } else { Some(warm_range) };
    let warm_fits = wanted.is_some_and(|wanted| wanted.low - slack <= warm.degrees);
    let cool_fits = cool.degrees <= cool_range.high + slack;
    if warm_fits && cool_fits {
        return;
    }
    let difference = warm.degrees - cool.degrees;
    let leaves = if difference <= 0.0 {
        "the cool end is no cooler".to_owned()
    } else {
        format!("a difference of {} leaves no choice", celsius(difference))
    };
    let says = format!(
        "{} is {} and {} {}: {leaves}; at least {} between them is wanted.",
        capital(place(warm.spot())),
        celsius(warm.degrees),
        place(cool.spot()),
        celsius(cool.degrees),
        celsius(line.value)
    );
    let does = format!(
        "Heat one end only, and let the other cool to {}; a larger enclosure makes that easier.",
        range(cool_range)
    );
    draft.find(
        Finding::new(Code::NoGradient, Severity::Watch, RULE.key, says, does)
            .on([warm.record(), cool.record()])
            .by(&line, "°C"),
    );
}

/// The newest pair of warm and cool end by day: air beside air, else surface beside surface, else what there is.
fn ends<'c, 'v>(climate: &'c Climate<'v>) -> Option<(&'c Felt<'v>, &'c Felt<'v>)> {
    let within_h = lines::high("readings_together").value;
    let by_day = |spot| climate.newest(spot, &[Time::Day, Time::Both]).filter(|one| !one.in_cut);
    let pair = |warm, cool| {
        let (warm, cool) = (by_day(warm)?, by_day(cool)?);
        (warm.at.hours_since(cool.at).abs() <= within_h && warm.time == cool.time).then_some((warm, cool))
    };
    pair(Spot::WarmAir, Spot::CoolAir)
        .or_else(|| pair(Spot::WarmSurface, Spot::CoolSurface))
        .or_else(|| pair(Spot::WarmSurface, Spot::CoolAir))
        .or_else(|| pair(Spot::WarmAir, Spot::CoolSurface))
}

#[cfg(test)]
mod tests {
    use super::super::tests::{on_an_evening, read, severity};
    use super::*;

    #[test]
    fn the_ends_differ_by_four_degrees() {
        // boa: warm end 28 to 30 °C, cool end 24 to 26 °C
        for (lines, said) in [
            (&["warm-air 14:00 29", "cool-air 14:00 25"][..], false),
            (&["warm-air 14:00 28", "cool-air 14:00 26"], false),
            (&["warm-air 14:00 30", "cool-air 14:00 27"], true),
            (&["warm-air 14:00 27", "cool-air 14:00 24"], true),
            (&["warm-air 14:00 31", "cool-air 14:00 27"], false),
            (&["warm-surface 14:00 28", "cool-surface 14:00 26"], true),
            (&["warm-air 14:00 27"], false),
            (&["warm-air 14:00 27", "cool-air 2027-04-05T20:00 24"], false),
            (&["warm-air 03:00 25 night", "cool-air 03:00 24 night"], false),
        ] {
            let answer = on_an_evening("boa_imperator", &read(lines));
            assert_eq!(severity(&answer, Code::NoGradient).is_some(), said, "{lines:?}");
        }
    }

    #[test]
    fn nothing_is_said_where_it_cannot_be_otherwise() {
        let flat = read(&["warm-air 14:00 26", "cool-air 14:00 25"]);
        let out = "[[power]]\nfrom = \"2027-04-06T08:00\"\n";
        let rest = "[[planned]]\nfrom = \"2027-03-01\"\nuntil = \"2027-04-20\"\nwhat = \"brumation\"\n";
        let said = |species: &str, more: &str| {
            on_an_evening(species, &format!("{flat}{more}")).finding(Code::NoGradient).is_some()
        };
        assert!(said("corn_snake", ""));
        assert!(!said("corn_snake", out), "power cut");
        assert!(!said("corn_snake", rest), "winter rest");
        assert!(!said("green tree python", ""), "its own ranges leave less");
    }
}
