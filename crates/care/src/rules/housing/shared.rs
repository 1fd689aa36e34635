//! One snake to an enclosure.

use records::facts::BreedingWhat;

use crate::answer::{Code, Finding, Severity};
use crate::draft::{Draft, seen, undated};
use crate::lines;
use crate::rules::Rule;
use crate::view::View;

/// Alone.
pub const RULE: Rule = Rule {
    key: "alone",
    says: "One snake to an enclosure; garter snakes of like size may share one, fed apart; kings, milks and womas never.",
    because: "Two snakes share stress, disease and one piece of prey with two heads on it.",
    sources: &["one_to_an_enclosure"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    /// A pair is together for this long at most, in days; no threshold of care, only what «paired» still covers.
    const PAIRED_D: f64 = 14.0;
    if view.is_dead() {
        return;
    }
    let Some((enclosure, others)) = view.enclosure().and_then(|it| Some((it, it.cohabitants.filter(|n| 0 < *n)?)))
    else {
        return;
    };
    let genus = view.profile.scientific_name.split(' ').next().unwrap_or_default();
    let has = |what: &str| {
        let group = lines::rule("one_to_an_enclosure").and_then(|rule| rule.group(genus));
        group.is_some_and(|group| group.numbers.contains_key(what))
    };
    let (may_share, eats_snakes) = (has("may_share"), has("eats_snakes"));
    let newest = view.line.breedings.last();
    let paired = newest.filter(|one| one.what == BreedingWhat::Paired && view.days_since(one.at) <= PAIRED_D);
    let with = if others == 1 { "another".to_owned() } else { format!("{others} others") };
    let (severity, says, does) = if eats_snakes {
        (
            Severity::Act,
            format!("It shares its enclosure with {with}, and its kind eats snakes."),
            "Part them today, and never leave them together unwatched.",
        )
    } else if paired.is_some() {
        (
            Severity::Note,
            format!("It is paired and shares its enclosure with {with} for a time."),
            "Feed them apart, look in every day, and part them when they no longer mate.",
        )
    } else if may_share {
        (
            Severity::Watch,
            format!("It shares its enclosure with {with}: garter snakes of like size may, when each is fed apart."),
            "Feed each apart, watch that each eats and sheds well, and part them as soon as one is ill.",
        )
    } else {
        (
            Severity::Act,
            format!("It shares its enclosure with {with}; one snake to an enclosure is wanted."),
            "Give each its own enclosure; until then feed them apart and look at both every day.",
        )
    };
    let records = std::iter::once(undated(enclosure.key)).chain(paired.map(seen));
    let source = lines::source("one_to_an_enclosure");
    draft.find(Finding::new(Code::SharedEnclosure, severity, RULE.key, says, does).on(records).from(source));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn said(species: &str, more: &str) -> Option<Severity> {
        let text = format!("at = \"2027-05-04T12:00\"\n[animal]\nspecies = \"{species}\"\nstage = \"adult\"\n{more}");
        answer(&text).finding(Code::SharedEnclosure).map(|one| one.severity)
    }

    #[test]
    fn snakes_live_alone() {
        let with = |others: u32| format!("[enclosure]\ncohabitants = {others}\n");
        for (species, others, expected) in [
            ("ball_python", 0, None),
            ("ball_python", 1, Some(Severity::Act)),
            ("common garter snake", 3, Some(Severity::Watch)),
            ("california kingsnake", 1, Some(Severity::Act)),
        ] {
            assert_eq!(said(species, &with(others)), expected, "{species} with {others}");
        }
        assert_eq!(said("ball_python", "[enclosure]\nhides = 2\n"), None, "not told");
    }

    #[test]
    fn a_pair_is_together_for_a_time() {
        let paired =
            |day: &str| format!("[[breeding]]\nat = \"{day}\"\nwhat = \"paired\"\n[enclosure]\ncohabitants = 1\n");
        assert_eq!(said("corn_snake", &paired("2027-05-01")), Some(Severity::Note));
        assert_eq!(said("corn_snake", &paired("2027-04-01")), Some(Severity::Act));
        assert_eq!(said("california kingsnake", &paired("2027-05-01")), Some(Severity::Act), "eats snakes");
    }
}
