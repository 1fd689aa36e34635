//! Laying that does not come, and tissue outside the vent.

use records::facts::{BreedingWhat, Sex, SignKind};
use units::When;

use super::tell;
use crate::answer::{Code, Evidence, Finding, Severity, Sure};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::signs::{Signs, Standing};
use crate::view::{View, days, number};

/// Eggs or young that do not come.
pub const RULE: Rule = Rule {
    key: "eggs-overdue",
    says: "Straining without an egg or young for 24 hours, or eggs not laid 21 days (royal python 50) after the pre-lay shed: a veterinarian; straining with weakness, blood or tissue outside: now.",
    because: "Eggs that stay inside must be treated within about two days.",
    sources: &["dystocia", "eggs_overdue", "prelay_noted_late", "laying_goes_on", "paired_may_be_gravid"],
    check,
};

/// Tissue outside the vent.
pub const PROLAPSE: Rule = Rule {
    key: "prolapse",
    says: "Tissue outside the vent: a veterinarian now, the tissue wet and clean, nothing pushed back.",
    because: "It dries and dies within hours.",
    sources: &["dystocia"],
    check: |view, draft| tell(view, draft, PROLAPSE.key, Code::Prolapse, |_, _| {}),
};

const CALL: &str =
    "Call a reptile veterinarian today; keep her warm, damp and undisturbed, squeeze nothing and pull nothing.";
const CALL_AT_ONCE: &str =
    "Call a reptile veterinarian now; keep her warm, damp and undisturbed, squeeze nothing and pull nothing.";

/// What she carries, or has begun to lay, as it bears on straining.
pub(super) enum Laying {
    /// Recorded as gravid, nothing laid since.
    Gravid(When, Evidence),
    /// Laid or gave birth lately.
    Begun(When),
    /// Paired, and nobody knows.
    Paired(When, Evidence),
}

/// Is she gravid, may she be, or did she lay or give birth so lately that more may be inside?
pub(super) fn laying(view: &View<'_>) -> Option<Laying> {
    if let Some(gravid) = view.gravid() {
        return Some(Laying::Gravid(gravid.at, seen(gravid)));
    }
    let within = lines::low("laying_goes_on").value;
    if let Some(laid) = view.last_laid().filter(|laid| view.days_since(*laid) <= within) {
        return Some(Laying::Begun(laid));
    }
    let may_be = lines::low("paired_may_be_gravid").value;
    let paired = view.line.breedings.last().filter(|one| one.what == BreedingWhat::Paired);
    let counts = |at: When| {
        view.sex() != Some(Sex::Male)
            && view.days_since(at) <= may_be
            && view.last_laid().is_none_or(|laid| laid.from < at.from)
    };
    paired.filter(|one| counts(one.at)).map(|one| Laying::Paired(one.at, seen(one)))
}

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) {
        return;
    }
    let Some(laying) = laying(view) else { return };
    let signs = Signs::of(view);
    if let Some(straining) = signs.get(SignKind::Straining) {
        labour(view, draft, &laying, straining, &signs);
        return;
    }
    if let Laying::Gravid(at, record) = laying {
        overdue(view, draft, at, record, &signs);
    }
}

/// She strains.
fn labour(view: &View<'_>, draft: &mut Draft, laying: &Laying, straining: &Standing<'_>, signs: &Signs<'_>) {
    let line = lines::low("dystocia");
    let since = straining.since().unwrap_or(view.now);
    let since = match laying {
        // An egg that came starts the clock anew.
        Laying::Begun(laid) => since.max(laid.to.min(view.now)),
        Laying::Gravid(..) | Laying::Paired(..) => since,
    };
    let hours = view.now.hours_since(since).max(0.0);
    let grave: Vec<&Standing<'_>> = [SignKind::Prolapse, SignKind::Bleeding]
        .iter()
        .filter_map(|sign| signs.get(*sign))
        .chain(signs.weak())
        .collect();
    let so_far = match laying {
        Laying::Gravid(..) => {
            (if view.profile.live_bearing { "without any young" } else { "without an egg" }).to_owned()
        }
        Laying::Begun(_) => "after the last one came".to_owned(),
        Laying::Paired(at, _) => format!("and was paired on {}: she may be gravid", view.date_of(*at)),
    };
    let mut says = format!("She has been straining for {} {so_far}", hours_in_words(hours));
    let mut records = straining.evidence();
    if let Laying::Gravid(_, record) | Laying::Paired(_, record) = laying {
        records.push(*record);
    }
    let (severity, does) = if let Some(first) = grave.first() {
        says.push_str(&format!(", and with it: {}", first.meaning.says));
        records.extend(grave.iter().flat_map(|one| one.evidence()));
        (Severity::Urgent, CALL_AT_ONCE)
    } else if line.value <= hours {
        (Severity::Vet, CALL)
    } else {
        (
            Severity::Watch,
            "Leave her in peace with a laying box and water; call a reptile veterinarian if nothing has come a day after she began, or at once if she weakens.",
        )
    };
    says.push('.');
    let overdue = matches!(laying, Laying::Gravid(..)) && severity < Severity::Vet;
    draft.find(
        Finding::new(Code::EggRetention, severity, RULE.key, says, does)
            .on(records)
            .by(&line, "h")
            .caution("prolapse-and-eggs"),
    );
    if overdue && let Laying::Gravid(at, record) = laying {
        self::overdue(view, draft, *at, *record, signs);
    }
}

fn hours_in_words(hours: f64) -> String {
    if hours < 48.0 { format!("{} h", number(hours.floor())) } else { days(hours / 24.0) }
}

/// How long after the pre-lay shed eggs of this kind may take; `None` for kinds that bear young.
fn limit(view: &View<'_>) -> Option<(Line, Sure)> {
    const COLUBRIDS: [&str; 4] = ["Colubridae", "Dipsadidae", "Natricidae", "Lamprophiidae"];
    if view.profile.live_bearing {
        return None;
    }
    if view.profile.scientific_name == "Python regius" {
        return Some((lines::group("eggs_overdue", "royal python"), Sure::Firm));
    }
    if COLUBRIDS.contains(&view.profile.family.as_str()) {
        return Some((lines::group("eggs_overdue", "colubrids"), Sure::Likely));
    }
    Some((lines::high("eggs_overdue"), Sure::Possible))
}

/// No straining, but the days after the pre-lay shed are over.
fn overdue(view: &View<'_>, draft: &mut Draft, gravid_at: When, gravid: Evidence, signs: &Signs<'_>) {
    let Some((line, sure)) = limit(view) else { return };
    let before = lines::low("prelay_noted_late").value;
    let sheds = view.line.sheds.iter().rev().filter_map(|shed| shed.shed_at.map(|off| (off, shed)));
    let Some((off, shed)) = sheds.take_while(|(off, _)| gravid_at.from.plus_days(-before) <= off.to).next() else {
        return;
    };
    let since = view.days_since(off);
    if since <= line.value {
        return;
    }
    let says = format!(
        "No eggs {} after her last shed as a gravid female; {} at most are usual for her kind.",
        days(since),
        days(line.value)
    );
    let weak = signs.is_weak();
    let (severity, does) = if weak { (Severity::Urgent, CALL_AT_ONCE) } else { (Severity::Vet, CALL) };
    let records = vec![gravid, seen(shed)];
    draft.find(
        Finding::new(Code::EggRetention, severity, RULE.key, says, does)
            .on(records)
            .by(&line, "d")
            .caution("prolapse-and-eggs")
            .sure(sure),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn gravid(species: &str, at: &str, rest: &str) -> Option<Severity> {
        let text = format!(
            "at = \"{at}\"\n[animal]\nspecies = \"{species}\"\nsex = \"female\"\nstage = \"adult\"\n[[breeding]]\nat = \"2027-03-01\"\nwhat = \"gravid\"\n{rest}"
        );
        answer(&text).finding(Code::EggRetention).map(|found| found.severity)
    }

    #[test]
    fn eggs_are_overdue_by_the_days_after_the_pre_lay_shed() {
        let shed = "[[shed]]\nshed_at = \"2027-03-20\"\npieces = 1\n";
        for (species, at, severity) in [
            ("ball_python", "2027-05-10T00:00", None),
            ("ball_python", "2027-05-10T01:00", Some(Severity::Vet)),
            ("corn_snake", "2027-04-11T00:00", None),
            ("corn_snake", "2027-04-11T01:00", Some(Severity::Vet)),
            ("boa_imperator", "2027-07-01T12:00", None),
        ] {
            assert_eq!(gravid(species, at, shed), severity, "{species} at {at}");
        }
        assert_eq!(gravid("corn_snake", "2027-05-20T12:00", ""), None, "without a shed there is nothing to count from");
    }

    #[test]
    fn fruitless_straining_is_for_a_veterinarian_after_a_day() {
        let straining = "[[sign]]\nat = \"2027-03-20T10:00\"\nsign = \"straining\"\n";
        let weak = format!("{straining}[[sign]]\nat = \"2027-03-20T12:00\"\nsign = \"weak\"\n");
        let blood = format!("{straining}[[sign]]\nat = \"2027-03-20T12:00\"\nsign = \"bleeding\"\n");
        for (at, rest, severity) in [
            ("2027-03-21T09:59", straining, Severity::Watch),
            ("2027-03-21T10:00", straining, Severity::Vet),
            ("2027-03-20T13:00", weak.as_str(), Severity::Urgent),
            ("2027-03-20T13:00", blood.as_str(), Severity::Urgent),
        ] {
            assert_eq!(gravid("ball_python", at, rest), Some(severity), "{at} {rest}");
        }
    }

    #[test]
    fn an_egg_that_came_starts_the_clock_anew() {
        let some = "[[breeding]]\nat = \"2027-03-20T18:00\"\nwhat = \"laid\"\ncount = 2\n[[sign]]\nat = \"2027-03-20T10:00\"\nsign = \"straining\"\n";
        for (at, severity) in [("2027-03-21T17:00", Some(Severity::Watch)), ("2027-03-21T18:00", Some(Severity::Vet))] {
            assert_eq!(gravid("ball_python", at, some), severity, "{at}");
        }
    }

    #[test]
    fn a_paired_female_that_strains_may_be_gravid() {
        let told = |sex: &str, paired: &str| {
            let text = format!(
                "at = \"2027-03-21T12:00\"\n[animal]\nspecies = \"ball_python\"\nsex = \"{sex}\"\n[[breeding]]\nat = \"{paired}\"\nwhat = \"paired\"\n\
                 [[sign]]\nat = \"2027-03-20T10:00\"\nsign = \"straining\"\n"
            );
            answer(&text).finding(Code::EggRetention).map(|found| found.severity)
        };
        assert_eq!(told("female", "2026-12-01"), Some(Severity::Vet));
        assert_eq!(told("male", "2026-12-01"), None);
        assert_eq!(told("female", "2026-06-01"), None);
    }

    #[test]
    fn a_clutch_that_was_laid_is_no_finding() {
        let laid = "[[shed]]\nshed_at = \"2027-03-05\"\n[[sign]]\nat = \"2027-05-01\"\nsign = \"laid-eggs\"\n";
        assert_eq!(gravid("ball_python", "2027-05-02T12:00", laid), None);
    }

    #[test]
    fn straining_of_a_gravid_female_is_not_told_as_stools_too() {
        let text = "at = \"2027-03-21T12:00\"\n[animal]\nspecies = \"ball_python\"\nsex = \"female\"\n[[breeding]]\nat = \"2027-03-01\"\nwhat = \"gravid\"\n\
                    [[sign]]\nat = \"2027-03-20T10:00\"\nsign = \"straining\"\n";
        let answer = answer(text);
        assert!(answer.finding(Code::Stools).is_none());
        assert!(answer.finding(Code::EggRetention).is_some());
    }
}
