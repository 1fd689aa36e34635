//! What one animal can give another: whose illness or death concerns its neighbours.

use std::collections::HashSet;
use std::sync::LazyLock;

use records::choice::Choice;
use records::facts::{Ending, EndingWhat};
use units::Moment;

use crate::answer::{Code, Severity};
use crate::lines;
use crate::rounds::Brief;

/// The findings that a sign leads to which others could catch, as the table of signs tells.
static CATCHING: LazyLock<HashSet<&'static str>> = LazyLock::new(|| {
    let signs = species::library().signs.iter().filter(|sign| sign.contagious);
    signs.filter_map(|sign| sign.code.as_deref()).collect()
});

/// Is something found that concerns the neighbours: an illness that others could catch, at the veterinarian's line or
/// above; mites, however few; or that it is dead?
pub fn is_catching(brief: &Brief) -> bool {
    brief.findings.iter().any(|one| {
        let severity = Severity::from_key(&one.severity);
        let grave = severity.is_some_and(|severity| Severity::Vet <= severity);
        let mites = one.code == Code::Mites.key() && severity.is_some_and(|severity| Severity::Act <= severity);
        one.code == Code::Death.key() || mites || (grave && CATCHING.contains(one.code.as_str()))
    })
}

/// Did an animal that is no longer there die so lately that its neighbours are watched?
pub fn died_lately(ending: &Ending, now: Moment) -> bool {
    let watched = lines::low("contact_after_death").value;
    ending.what == EndingWhat::Died && ending.at.from <= now && now <= ending.at.to.plus_days(watched)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{answer, moment};
    use units::Zone;

    fn catching(sign: &str) -> bool {
        let text = format!(
            "at = \"2027-03-02T12:00\"\n[animal]\nspecies = \"corn_snake\"\n[[sign]]\nat = \"2027-03-01\"\n{sign}\n"
        );
        is_catching(&Brief::of(&answer(&text)))
    }

    #[test]
    fn what_others_could_catch_concerns_them() {
        for (sign, concerns) in [
            ("sign = \"wheezing\"", true),
            ("sign = \"mites-seen\"\ngrade = \"slight\"", true),
            ("sign = \"star-gazing\"", true),
            ("sign = \"dead\"", true),
            ("sign = \"blister\"", false),
            ("sign = \"rubbed-nose\"", false),
        ] {
            assert_eq!(catching(sign), concerns, "{sign}");
        }
    }

    #[test]
    fn a_death_concerns_the_room_for_a_month() {
        let died = |what| Ending { at: Zone::none().read("2027-03-01").unwrap(), what, note: None };
        // The end of the day (2027-03-02T00:00) and 30 days more.
        for (now, concerns) in [
            ("2027-02-28T12:00", false),
            ("2027-03-01T12:00", true),
            ("2027-04-01T00:00", true),
            ("2027-04-01T00:01", false),
        ] {
            assert_eq!(died_lately(&died(EndingWhat::Died), moment(now)), concerns, "{now}");
        }
        assert!(!died_lately(&died(EndingWhat::Sold), moment("2027-03-02T12:00")));
    }
}
