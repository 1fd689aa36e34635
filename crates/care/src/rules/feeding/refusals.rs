//! Refusals and fasts: judged by mass first, then by animal, season and species.

use crate::answer::{Action, Code, Finding, Missing, Severity, State, Sure};
use crate::draft::{Draft, Line, seen};
use crate::lines;
use crate::refusals::{Offers, Run};
use crate::rules::Rule;
use crate::season::in_season;
use crate::view::{View, days, number, plural};

/// How long without a meal is too long.
pub const RULE: Rule = Rule {
    key: "refusals",
    says: "Days without a meal are judged by species and season only while a weighing of the last 30 days shows a loss under 5 %; without one by 30, 60 and 120 days.",
    because: "Nobody knows whether a fast is harmless until the animal is weighed.",
    sources: &[
        "refusal_needs_mass",
        "refusal_general",
        "refusal_run",
        "refusal_unusual",
        "hatchling_not_started_vet",
        "pause_gap",
    ],
    check,
};

/// A weighing must be this fresh to vouch for a fast (rule refusal_needs_mass says: of the last 30 days).
const FRESH_MASS_D: f64 = 30.0;

fn check(view: &View<'_>, draft: &mut Draft) {
    let Some(index) = view.meals.last_taken else { return };
    let Some(last) = view.line.meals.get(index) else { return };
    if view.is_brumating() || view.is_dead() || view.missing_since().is_some() || view.is_elsewhere() {
        return;
    }
    let Some(feeding) = view.feeding() else { return };
    let without_d = view.days_since(last.at);
    let refusals = view.meals.refusals.len();
    let interval = &feeding.interval_d;
    let records: Vec<_> = view
        .meals
        .refusals
        .iter()
        .filter_map(|index| view.line.meals.get(*index))
        .map(seen)
        .chain([seen(last)])
        .collect();
    let is_fasting = 0 < refusals && interval.high * 1.5 < without_d;
    if is_fasting {
        let why = format!("Nothing taken for {}; {} since.", days(without_d), plural(refusals as f64, "refusal"));
        draft.state(State::Fasting, last.at.from, None, why);
        for what in
            [Missing::Mass, Missing::WarmSurfaceTemperature, Missing::NightTemperature, Missing::WarmAirTemperature]
        {
            draft.need(what, 40.0);
        }
    }
    let refused = match refusals {
        0 => "no offer since is on record".to_owned(),
        1 => "one offer since was refused".to_owned(),
        many => format!("{many} offers since were refused"),
    };
    let loss = view.masses.loss_pct.filter(|_| view.masses.is_known_within(FRESH_MASS_D, view.now));
    let watch_loss = lines::low("weight_loss_watch").value;
    let mass_words = match (view.masses.is_known_within(FRESH_MASS_D, view.now), loss) {
        (true, Some(loss)) if 0.05 <= loss => format!("it is {} % lighter", number(loss)),
        (true, Some(_)) => "its mass holds".to_owned(),
        (true, None) => "there is no earlier mass to compare with".to_owned(),
        (false, _) => "its mass of late is not known".to_owned(),
    };
    let run = judged(view);
    let line_of =
        |figure: fn(&str) -> Line| run.as_ref().is_some_and(|run| run.is_unusual(figure("refusal_unusual").value));
    let unusual = line_of(lines::high);
    let beside = run.as_ref().and_then(|run| run.animal).filter(|_| unusual).map_or(String::new(), |judged| {
        format!(
            " Of {} before, {} refused: a year of its offers holds so long a run {}.",
            plural(judged.offers as f64, "offer"),
            match judged.refused {
                0 => "none was".to_owned(),
                1 => "one was".to_owned(),
                more => format!("{more} were"),
            },
            chance(judged.in_a_year_pct)
        )
    });
    let says = format!("Nothing taken for {}; {refused}; {mass_words}.{beside}", days(without_d));
    let vouched = loss.is_some_and(|loss| loss < watch_loss);
    let season = in_season(view);
    let gravid = view.gravid().is_some() || view.brooding().is_some();

    let (severity, line, long) = if vouched {
        let Some(alert) = view.refusal_alert_d() else { return };
        let longest = view.profile.fasting.typical_d.first().map_or(alert.high, |typical| typical.high.max(alert.high));
        let line = if season || gravid { Line::high(alert).with(longest) } else { Line::low(alert) };
        if without_d < line.value {
            if is_fasting && lines::low("refusal_run").value <= refusals as f64 {
                usual(draft, says, season, gravid, Line::low(alert), records);
            }
            return;
        }
        let severity = if line.value * 2.0 <= without_d { Severity::Act } else { Severity::Watch };
        (severity, line, true)
    } else {
        let step = |index| {
            if view.is_hatchling() {
                lines::group_step("refusal_needs_mass", "hatchling", index)
            } else {
                lines::step("refusal_needs_mass", index)
            }
        };
        let vet = if view.is_hatchling() { lines::low("hatchling_not_started_vet") } else { step(2) };
        let (watch, act) = (step(0), step(1));
        if vet.value <= without_d {
            (Severity::Vet, vet, true)
        } else if act.value <= without_d {
            (Severity::Act, act, true)
        } else if watch.value <= without_d && interval.high < without_d {
            (Severity::Watch, watch, false)
        } else {
            (Severity::Note, watch, false)
        }
    };
    if gravid && severity < Severity::Vet {
        if is_fasting {
            usual(draft, says, season, gravid, line, records);
        }
        return;
    }
    let severity = if line_of(lines::low) { severity.max(Severity::Act) } else { severity };
    // Away, starved or not to be fed now: that is told, and why, and asks for no offer.
    let told = draft.found(Code::RefeedGently).is_some();
    let held = draft.held_until(Action::OfferMeal).is_some();
    if refusals == 0 && (told || (held && severity < Severity::Act)) {
        return;
    }
    if refusals == 0 {
        overdue(view, draft, without_d, severity, interval, &line, seen(last));
        return;
    }
    if severity == Severity::Note || (refusals as f64) < lines::low("refusal_run").value && !long {
        return;
    }
    let does = what_to_do(view, severity);
    let code = if unusual {
        Code::RefusalRunUnusual
    } else if long {
        Code::FastLong
    } else if season {
        Code::RefusalRunUsual
    } else {
        Code::FastLong
    };
    let finding = Finding::new(code, severity, RULE.key, says, does).on(records).by(&line, "d").sure(if unusual {
        Sure::Likely
    } else {
        Sure::Firm
    });
    draft.find(if Severity::Vet <= severity {
        finding.caution("call-veterinarian")
    } else {
        finding.caution("no-force-feeding")
    });
}

fn usual(
    draft: &mut Draft,
    says: String,
    season: bool,
    gravid: bool,
    line: Line,
    records: Vec<crate::answer::Evidence>,
) {
    let known = if gravid {
        "Gravid and brooding females often take nothing."
    } else if season {
        "Its species is known to pause in this season."
    } else {
        "Its species is known for long pauses."
    };
    let (few, fewer) = (number(lines::low("pause_gap").value), number(lines::high("pause_gap").value));
    let ends = number(lines::low("weight_loss_watch").value);
    let does = format!(
        "Offer at {few} to {fewer} times the usual gap and weigh every week; {ends} % lighter ends the waiting."
    );
    draft.find(
        Finding::new(Code::RefusalRunUsual, Severity::Note, RULE.key, format!("{says} {known}"), does)
            .on(records)
            .by(&line, "d")
            .sure(Sure::Likely),
    );
}

/// Nothing was refused: it was not offered, or offers were not written down. A word, not an alarm.
fn overdue(
    view: &View<'_>,
    draft: &mut Draft,
    without_d: f64,
    severity: Severity,
    interval: &species::Figure,
    line: &Line,
    last: crate::answer::Evidence,
) {
    let late = 2.0 * interval.high;
    if without_d < late.max(interval.high + 7.0) {
        return;
    }
    let says = format!(
        "Nothing taken for {}, and no offer since is on record; {} to {} d is usual at its stage.",
        days(without_d),
        number(interval.low),
        number(interval.high)
    );
    let held = draft.held_until(Action::OfferMeal).is_some();
    let does = match (held, view.masses.is_known_within(FRESH_MASS_D, view.now)) {
        (true, _) => "Note the offers that were made; the next waits for what stands against it now.",
        (false, true) => "Offer a meal, or note the offers that were made.",
        (false, false) => "Weigh it, then offer a meal, or note the offers that were made.",
    };
    let (code, severity) = if Severity::Act <= severity && late < without_d {
        (Code::FastLong, severity)
    } else {
        (Code::MealOverdue, severity.min(Severity::Watch))
    };
    if Severity::Vet <= severity {
        let does = "Note the offers that were made; if it truly took nothing in all that time, weigh it and call a reptile veterinarian.";
        draft.find(
            Finding::new(code, severity, RULE.key, says, does)
                .on([last])
                .by(line, "d")
                .sure(Sure::Possible)
                .caution("call-veterinarian"),
        );
        return;
    }
    draft.find(Finding::new(code, severity, RULE.key, says, does).on([last]).by(line, "d").sure(Sure::Possible));
}

fn what_to_do(view: &View<'_>, severity: Severity) -> String {
    let weigh = if view.masses.is_known_within(FRESH_MASS_D, view.now) { "" } else { "Weigh it. " };
    let measure = if view.warmth.warm_c.is_none() {
        "Measure the warm side and the night before calling it a pause."
    } else {
        "Check heat, hides and quiet, then the size and kind of prey."
    };
    match severity {
        Severity::Vet | Severity::Urgent => format!("{weigh}Call a reptile veterinarian; {}", lower_first(measure)),
        _ => format!("{weigh}{measure}"),
    }
}

/// A small chance in words.
fn chance(percent: f64) -> String {
    if percent < 1.0 {
        "in fewer than one case of a hundred".to_owned()
    } else {
        format!("in {percent:.0} of a hundred cases")
    }
}

fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_lowercase().chain(chars).collect())
}

/// The run of refusals that goes on, held against its offers before; `None` for one too short to be a run.
fn judged(view: &View<'_>) -> Option<Run> {
    if (view.meals.refusals.len() as f64) < lines::high("refusal_run").value {
        return None;
    }
    Run::of(view, &Offers::of(view))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    /// A corn snake, adult, that last ate on 1 May 2027 and refused at the days given; weighed or not.
    fn fast(at: &str, refused: &[&str], masses: &[(&str, f64)]) -> crate::Answer {
        let mut text = format!(
            "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nsex = \"female\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-05-01\"\nmass_g = 25\noutcome = \"taken\"\n"
        );
        for day in refused {
            text.push_str(&format!("[[meal]]\nat = \"{day}\"\nmass_g = 25\noutcome = \"refused\"\n"));
        }
        for (day, mass) in masses {
            text.push_str(&format!("[[weighing]]\nat = \"{day}\"\nmass_g = {mass}\n"));
        }
        answer(&text)
    }

    #[test]
    fn without_a_mass_thirty_sixty_and_a_hundred_and_twenty_days_count() {
        let refused = ["2027-05-14", "2027-05-22"];
        for (at, severity) in [
            ("2027-05-31T00:00", None),
            ("2027-06-01T00:00", Some(Severity::Watch)),
            ("2027-06-30T23:00", Some(Severity::Watch)),
            ("2027-07-01T00:00", Some(Severity::Act)),
            ("2027-08-29T23:00", Some(Severity::Act)),
            ("2027-08-30T00:00", Some(Severity::Vet)),
        ] {
            let answer = fast(at, &refused, &[]);
            assert_eq!(answer.finding(Code::FastLong).map(|found| found.severity), severity, "{at}");
        }
    }

    #[test]
    fn a_steady_mass_makes_it_quiet_until_the_line_of_the_species() {
        let refused = ["2027-05-14", "2027-05-24"];
        let steady = [("2027-04-20", 500.0), ("2027-06-08", 495.0)];
        assert!(
            fast("2027-06-10T19:00", &refused, &steady).findings.iter().all(|found| found.severity <= Severity::Note)
        );
        let lost = [("2027-04-20", 500.0), ("2027-06-08", 470.0)];
        assert!(
            fast("2027-06-10T19:00", &refused, &lost).finding(Code::FastLong).is_some(),
            "6 % lighter is not steady"
        );
    }

    #[test]
    fn one_refusal_is_no_run() {
        let answer = fast("2027-05-20T19:00", &["2027-05-15"], &[]);
        assert!(answer.finding(Code::FastLong).is_none() && answer.finding(Code::RefusalRunUnusual).is_none());
    }

    #[test]
    fn what_was_never_offered_was_not_refused() {
        let answer = fast("2027-05-25T19:00", &[], &[]);
        assert!(answer.finding(Code::FastLong).is_none() && answer.finding(Code::RefusalRunUsual).is_none());
        let late = fast("2027-06-20T19:00", &[], &[]);
        assert!(late.finding(Code::MealOverdue).is_some_and(|found| found.severity <= Severity::Watch));
    }

    #[test]
    fn refusals_in_blue_do_not_count() {
        let text = "at = \"2027-06-12T19:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[meal]]\nat = \"2027-05-20\"\noutcome = \"taken\"\n\
                    [[meal]]\nat = \"2027-06-05\"\noutcome = \"refused\"\n[[meal]]\nat = \"2027-06-09\"\noutcome = \"refused\"\n\
                    [[shed]]\ndull_at = \"2027-06-02\"\nblue_at = \"2027-06-04\"\nshed_at = \"2027-06-11\"\npieces = 1\n";
        assert!(!answer(text).is_in(State::Fasting));
    }

    #[test]
    fn a_hatchling_that_stopped_eating_has_little_time() {
        for (at, severity) in [
            ("2027-09-14T23:00", None),
            ("2027-09-15T01:00", Some(Severity::Watch)),
            ("2027-09-23T01:00", Some(Severity::Act)),
            ("2027-10-14T01:00", Some(Severity::Vet)),
        ] {
            let text = format!(
                "at = \"{at}\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"hatchling\"\n[[meal]]\nat = \"2027-08-31\"\nprey = \"mouse-pinky\"\noutcome = \"taken\"\n\
                 [[meal]]\nat = \"2027-09-06\"\noutcome = \"refused\"\n[[meal]]\nat = \"2027-09-12\"\noutcome = \"refused\"\n"
            );
            assert_eq!(answer(&text).finding(Code::FastLong).map(|found| found.severity), severity, "{at}");
        }
    }
}
