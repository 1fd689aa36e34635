//! Climate: heat, cold, the choice between them, humidity, and the devices that make and measure it.

mod check;
mod chill;
mod cold;
mod gradient;
mod heat;
mod heaters;
mod humidity;
mod modelled;
mod power;
mod readings;
mod sensors;
mod unit;

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[
    unit::RULE,
    heat::RULE,
    cold::RULE,
    cold::DIGESTION,
    power::RULE,
    chill::RULE,
    check::RULE,
    gradient::RULE,
    humidity::AIR,
    humidity::IN_SHED,
    humidity::FLOOR,
    humidity::WALLS,
    heaters::THERMOSTAT,
    heaters::GUARD,
    heaters::KIND,
    heaters::PROBE,
    heaters::SET_POINT,
    modelled::FAULT,
    modelled::SEASON,
    modelled::MEAL,
    sensors::AGREE,
    sensors::FLAT,
    sensors::GAP,
];

#[cfg(test)]
pub(super) mod tests {
    use crate::answer::{Answer, Code, Severity};
    use crate::testing;

    /// An adult of a species on 6 April 2027 at 18:00, with more of its case file.
    pub fn on_an_evening(species: &str, more: &str) -> Answer {
        at("2027-04-06T18:00", species, more)
    }

    /// An adult of a species at a moment.
    pub fn at(at: &str, species: &str, more: &str) -> Answer {
        testing::answer(&format!("at = \"{at}\"\n[animal]\nspecies = \"{species}\"\nstage = \"adult\"\n{more}"))
    }

    /// A reading: `warm-air 14:00 28.5`, with its period or anything else behind it, at a time of 6 April 2027.
    pub fn read(lines: &[&str]) -> String {
        let mut text = String::new();
        for line in lines {
            let parts: Vec<&str> = line.split_whitespace().collect();
            let [spot, time, degrees, more @ ..] = parts.as_slice() else { panic!("{line}") };
            let at = if time.contains('T') { (*time).to_owned() } else { format!("2027-04-06T{time}") };
            text.push_str(&format!("[[reading]]\nat = \"{at}\"\nspot = \"{spot}\"\ntemperature_c = {degrees}\n"));
            for one in more {
                let (key, value) = one.split_once('=').unwrap_or(("period", one));
                let quote = if value.parse::<f64>().is_ok() { "" } else { "\"" };
                text.push_str(&format!("{key} = {quote}{value}{quote}\n"));
            }
        }
        text
    }

    pub fn severity(answer: &Answer, code: Code) -> Option<Severity> {
        answer.finding(code).map(|finding| finding.severity)
    }

    /// Every finding about temperature, with its severity.
    pub fn told(answer: &Answer) -> Vec<(Code, Severity)> {
        let temperature = Code::WarmSurfaceHot..=Code::NoGradient;
        let of = |code: Code| temperature.contains(&code) || code == Code::TooColdToDigest;
        answer.findings.iter().filter(|one| of(one.code)).map(|one| (one.code, one.severity)).collect()
    }

    #[test]
    fn a_well_kept_enclosure_says_nothing() {
        // warm surface, warm air, cool air, warm air and cool air at night, humidity: the middle of each profile
        for (species, surface, warm, cool, warm_night, cool_night, humidity) in [
            ("ball_python", 32.0, 30.0, 25.5, 27.0, 24.0, 65.0),
            ("corn_snake", 31.0, 28.5, 23.5, 24.0, 20.0, 50.0),
            ("boa_imperator", 32.0, 29.0, 25.0, 26.0, 23.0, 70.0),
            ("common garter snake", 31.5, 27.5, 21.5, 22.5, 18.5, 55.0),
            ("rubber boa", 27.0, 25.0, 18.0, 16.0, 12.0, 60.0),
        ] {
            let lines = [
                format!("warm-air 04:00 {warm_night} means=mean hours=8"),
                format!("cool-air 04:00 {cool_night} means=minimum hours=8"),
                format!("warm-surface 14:00 {surface}"),
                format!("warm-air 14:00 {warm} means=mean hours=10"),
                format!("cool-air 14:00 {cool} humidity_pct={humidity}"),
            ];
            let answer = on_an_evening(species, &read(&lines.each_ref().map(String::as_str)));
            let said: Vec<&str> = answer.findings.iter().map(|one| one.says.as_str()).collect();
            assert!(said.is_empty(), "{species}: {said:?}");
            assert!(answer.holds.is_empty(), "{species}");
        }
    }
}
