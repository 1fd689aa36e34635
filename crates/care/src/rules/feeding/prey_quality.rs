//! The prey itself: size, life, warmth, thawing, time left, age.

use records::choice::Choice;
use records::facts::{Meal, Outcome, PreyState, Thawing};
use records::timeline::Entry;

use crate::answer::{Code, Finding, Severity, Sure};
use crate::draft::{Draft, Line, seen, undated};
use crate::lines;
use crate::rules::{Rule, prey};
use crate::view::{View, celsius, grams, number, times};

/// Prey too large or too small for the animal.
pub const SIZE: Rule = Rule {
    key: "prey-size",
    says: "One meal stays within the profile's limits of mass and thickness.",
    because: "What is too large comes up, or does not go down; what is too small does not feed.",
    sources: &["prey_mass_max", "prey_girth_default"],
    check: size,
};
/// Live prey.
pub const LIVE: Rule = Rule {
    key: "live-prey",
    says: "Live rodents injure snakes; none is left unwatched, not for a minute.",
    because: "A frightened rodent bites, and a snake that is not hungry does not defend itself.",
    sources: &["live_prey"],
    check: live,
};
/// Prey too cool or too hot.
pub const WARMTH: Rule = Rule {
    key: "prey-warmth",
    says: "Prey is offered warm outside and never hotter than 43 °C.",
    because: "Cool prey is refused, and a cold core rots; hot prey burns mouth and gullet.",
    sources: &["prey_surface_temp", "prey_surface_max"],
    check: warmth,
};
/// Thawing that is not safe.
pub const THAWING: Rule = Rule {
    key: "thawing",
    says: "No microwave, no hot water, nothing frozen twice.",
    because: "Hot spots beside a frozen core, and bacteria that had time to grow.",
    sources: &["thaw_no_microwave", "no_refreeze"],
    check: thawing,
};
/// Prey left too long.
pub const LEFT: Rule = Rule {
    key: "prey-left",
    says: "Uneaten killed prey is taken away after two hours; overnight at most on the cool side, for a shy feeder.",
    because: "It spoils on the warm side.",
    sources: &["uneaten_remove"],
    check: left,
};
/// Old prey in the freezer.
pub const OLD: Rule = Rule {
    key: "prey-age",
    says: "Frozen rodents keep 6 to 12 months, fish 3 to 6.",
    because: "Fat turns rancid and vitamins are lost in the freezer too.",
    sources: &["freezer_life_rodent", "freezer_life_fish"],
    check: old,
};
/// A meal nobody saw eaten.
pub const UNCONFIRMED: Rule = Rule {
    key: "meal-unconfirmed",
    says: "Prey that is gone was not seen eaten: it counts once a weighing or waste confirms it.",
    because: "Prey hides, dies behind the hide, or is taken by another.",
    sources: &["records"],
    check: unconfirmed,
};

/// For how long something about the last meals is still worth saying, in days.
const RECENT_D: f64 = 14.0;

fn recent<'v>(view: &'v View<'_>) -> impl Iterator<Item = &'v Entry<Meal>> {
    view.line.meals.iter().rev().take_while(|meal| view.days_since(meal.at) <= RECENT_D).take(3)
}

fn size(view: &View<'_>, draft: &mut Draft) {
    let Some(eaten) = view.meals.last_eaten().filter(|eaten| view.days_since(eaten.at) <= RECENT_D) else { return };
    let Some(meal) = view.line.meals.get(eaten.index) else { return };
    let limit = prey::mass_limit_pct(view);
    if let (Some(share), Some(limit), Some(mass)) = (eaten.share_pct, &limit, eaten.mass_g)
        && limit.value < share
    {
        let severity = if limit.value * 1.6 < share { Severity::Act } else { Severity::Watch };
        let says = format!(
            "The last meal, {}, was {} % of its mass; {} % is the limit of one meal.",
            grams(mass),
            number(share),
            number(limit.value)
        );
        let does = "Leave it in peace and warm until it is digested, and take a smaller class next time.";
        let sure = if eaten.mass_is_assumed { Sure::Possible } else { Sure::Firm };
        draft.find(
            Finding::new(Code::PreyLarge, severity, SIZE.key, says, does)
                .on([seen(meal)])
                .by(limit, "% of body mass")
                .sure(sure),
        );
        return;
    }
    if let (Some(one), Some(widest)) = (meal.mass_g.or(eaten.mass_g), prey::widest_mm(view)) {
        let thick = prey::prey_diameter_mm(one / if meal.mass_g.is_some() { 1.0 } else { f64::from(meal.count) });
        let (watch, act) = (lines::low("prey_girth_default"), lines::high("prey_girth_default"));
        let ratio = thick / widest.mm;
        let line = if act.value < ratio { &act } else { &watch };
        if widest.is_measured && watch.value < ratio {
            let severity = if act.value < ratio { Severity::Act } else { Severity::Watch };
            let says = format!(
                "The last prey was about {thick:.0} mm thick, {} times the widest part of the animal ({:.0} mm).",
                times(ratio),
                widest.mm
            );
            draft.find(
                Finding::new(
                    Code::PreyLarge,
                    severity,
                    SIZE.key,
                    says,
                    "Leave it in peace and warm, and take thinner prey next time.",
                )
                .on([seen(meal)])
                .by(line, "x widest part")
                .sure(Sure::Likely),
            );
        }
    }
}

fn live(view: &View<'_>, draft: &mut Draft) {
    /// Live prey is worth a word for as long as it is the habit of the last meals.
    const HABIT_D: f64 = 60.0;
    let last: Vec<_> = view
        .line
        .meals
        .iter()
        .rev()
        .take(3)
        .filter(|meal| meal.state == Some(PreyState::Live) && view.days_since(meal.at) <= HABIT_D)
        .collect();
    let Some(newest) = last.first() else { return };
    let line = lines::low("live_prey_watched");
    let alone = |meal: &Entry<Meal>| match meal.minutes_left {
        Some(minutes) => line.value < minutes,
        None => matches!(meal.outcome, Outcome::Left | Outcome::Unseen),
    };
    let unwatched = last.iter().find(|meal| alone(meal));
    let (severity, says) = match unwatched.map(|meal| (meal, meal.minutes_left)) {
        Some((meal, None)) => {
            (Severity::Act, format!("Live prey was left with the animal on {}.", view.date_of(meal.at)))
        }
        Some((meal, Some(minutes))) => {
            let long =
                if 120.0 <= minutes { format!("{:.0} hours", minutes / 60.0) } else { format!("{minutes:.0} minutes") };
            (Severity::Act, format!("Live prey was with the animal for {long} on {}.", view.date_of(meal.at)))
        }
        None => (Severity::Note, format!("Live prey was offered on {}.", view.date_of(newest.at))),
    };
    let does = if unwatched.is_some() {
        "Take live prey out at once when it is not struck, look the animal over for bites, and offer killed prey."
    } else {
        "Offer killed, thawed prey; where it must be live, watch every minute and take it out when it is not struck."
    };
    let finding = Finding::new(Code::LivePrey, severity, LIVE.key, says, does).on(last.iter().map(|meal| seen(meal)));
    draft.find(if unwatched.is_some() { finding.by(&line, "min") } else { finding }.caution("live-prey"));
}

fn warmth(view: &View<'_>, draft: &mut Draft) {
    let (low, hot) = (lines::low("prey_surface_temp"), lines::low("prey_surface_max"));
    for meal in recent(view) {
        let Some(surface) = meal.surface_c else { continue };
        if hot.value < surface {
            let eaten = meal.was_eaten();
            let says = format!("Prey was offered at {} outside; {} is the most.", celsius(surface), celsius(hot.value));
            let does = if eaten {
                "Watch mouth and appetite; gaping, mucus or refusal is a matter for a reptile veterinarian. Let prey cool and measure it next time."
            } else {
                "Let prey cool and measure it before it is offered."
            };
            draft.find(
                Finding::new(Code::PreyTooHot, Severity::Act, WARMTH.key, says, does)
                    .on([seen(meal)])
                    .by(&hot, "°C")
                    .caution("prey-hot"),
            );
        } else if surface < low.value - 4.0 {
            let says =
                format!("Prey was offered at {} outside; {} or more is wanted.", celsius(surface), celsius(low.value));
            let refused = if meal.was_eaten() { "" } else { " A refusal of cool prey does not count." };
            let does = format!("Warm it through in a bag in warm water next time and measure the surface.{refused}");
            draft.find(
                Finding::new(Code::PreyTooCool, Severity::Note, WARMTH.key, says, does).on([seen(meal)]).by(&low, "°C"),
            );
        }
    }
}

fn thawing(view: &View<'_>, draft: &mut Draft) {
    for meal in recent(view) {
        let heaviest = lines::group("thaw_room_max", "room thawing, heaviest prey");
        let unsafe_way = match meal.thawed {
            Some(Thawing::Microwave) => Some(("in a microwave", Severity::Act, None)),
            Some(Thawing::HotWater) => Some(("in hot water", Severity::Watch, None)),
            Some(Thawing::Room) if meal.mass_g.is_some_and(|mass| heaviest.value < mass) => {
                Some(("in room air although it is heavy", Severity::Watch, Some(&heaviest)))
            }
            _ => None,
        };
        if let Some((way, severity, line)) = unsafe_way {
            let says = format!("Prey of {} was thawed {way}.", view.date_of(meal.at));
            let does = "Thaw in the refrigerator or in cold water in a bag, then warm it for a few minutes; check that no core is cold.";
            let finding = Finding::new(Code::ThawUnsafe, severity, THAWING.key, says, does).on([seen(meal)]);
            draft.find(
                match line {
                    Some(line) => finding.by(line, "g"),
                    None => finding.from(lines::source("thaw_no_microwave")),
                }
                .caution("prey-handling"),
            );
        }
        if meal.refrozen {
            let says = format!("Prey of {} had been thawed before and was frozen again.", view.date_of(meal.at));
            let does = if meal.was_eaten() {
                "Watch for the meal coming up; bin thawed prey that is not eaten."
            } else {
                "Bin it, and thaw fresh prey in a day or two."
            };
            draft.find(
                Finding::new(Code::RefrozenPrey, Severity::Watch, THAWING.key, says, does)
                    .on([seen(meal)])
                    .from(lines::source("no_refreeze")),
            );
        }
    }
}

fn left(view: &View<'_>, draft: &mut Draft) {
    let line = lines::low("uneaten_remove");
    for meal in recent(view).filter(|meal| meal.state != Some(PreyState::Live)) {
        let hours = meal.minutes_left.unwrap_or_default() / 60.0;
        let uneaten = matches!(meal.outcome, Outcome::Refused | Outcome::Left | Outcome::Unseen);
        if uneaten && line.value < hours {
            let says = format!(
                "Prey lay uneaten for {} h on {}; {} h is the usual limit.",
                number(hours),
                view.date_of(meal.at),
                number(line.value)
            );
            let severity = if hours <= 12.0 { Severity::Note } else { Severity::Watch };
            draft.find(
                Finding::new(
                    Code::PreyLeftTooLong,
                    severity,
                    LEFT.key,
                    says,
                    "Bin what is left, never freeze it again, and try fresh prey in a day or two at the earliest.",
                )
                .on([seen(meal)])
                .by(&line, "h"),
            );
        }
    }
}

fn old(view: &View<'_>, draft: &mut Draft) {
    let keeps = |prey: Option<records::facts::Prey>| {
        if prey == Some(records::facts::Prey::Fish) {
            lines::high("freezer_life_fish")
        } else {
            lines::high("freezer_life_rodent")
        }
    };
    for lot in view.case.freezer.iter().filter(|lot| 0 < lot.count) {
        let line = keeps(Some(lot.class));
        let Some(age) = lot.bought.map(|bought| view.days_since(bought)).filter(|age| line.value < *age) else {
            continue;
        };
        let says = format!(
            "{} frozen {} have been kept for {} months; {} is the usual limit.",
            lot.count,
            plural_words(lot.class),
            number(age / 30.44),
            months(&line)
        );
        draft.find(
            Finding::new(
                Code::PreyOld,
                Severity::Watch,
                OLD.key,
                says,
                "Use the younger ones and bin these, all the more with freezer burn or yellow fat.",
            )
            .on([undated(lot.key)])
            .by(&line, "d"),
        );
    }
    for meal in recent(view) {
        let line = keeps(meal.prey);
        let Some(frozen) = meal.frozen_on else { continue };
        let age = meal.at.from.days_since(frozen.to);
        if line.value < age {
            let says = format!(
                "The prey of {} had been frozen for {} months; {} is the usual limit.",
                view.date_of(meal.at),
                number(age / 30.44),
                months(&line)
            );
            draft.find(
                Finding::new(Code::PreyOld, Severity::Watch, OLD.key, says, "Use younger prey, first in, first out.")
                    .on([seen(meal)])
                    .by(&line, "d"),
            );
        }
    }
}

fn months(line: &Line) -> String {
    format!("{:.0} months", line.value / 30.44)
}

fn plural_words(prey: records::facts::Prey) -> String {
    format!("({})", prey.words())
}

fn unconfirmed(view: &View<'_>, draft: &mut Draft) {
    let meals = view.meals.unconfirmed.iter().filter_map(|index| view.line.meals.get(*index));
    let Some(meal) = meals.rev().find(|meal| view.days_since(meal.at) <= RECENT_D) else { return };
    let says =
        format!("The prey of {} is gone, but nobody saw it eaten: it does not count yet.", view.date_of(meal.at));
    let does = "Look for it in and around the enclosure; a weighing within ten days, or waste, settles it.";
    draft.find(Finding::new(Code::MealUnconfirmed, Severity::Note, UNCONFIRMED.key, says, does).on([seen(meal)]));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::answer;

    fn meal(lines: &str) -> crate::Answer {
        answer(&format!(
            "at = \"2027-02-02T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-01-25\"\nmass_g = 400\n[[meal]]\nat = \"2027-02-01T20:00\"\n{lines}\n"
        ))
    }

    #[test]
    fn a_meal_is_large_above_the_limit_of_the_profile() {
        // corn snake: 20 % of body mass is the hard limit of one meal
        for (mass, severity) in
            [(79.0, None), (80.0, None), (81.0, Some(Severity::Watch)), (130.0, Some(Severity::Act))]
        {
            let answer = meal(&format!("mass_g = {mass}\noutcome = \"taken\""));
            assert_eq!(answer.finding(Code::PreyLarge).map(|found| found.severity), severity, "{mass} g");
        }
    }

    #[test]
    fn prey_is_warm_but_not_hot() {
        for (surface, code) in
            [(20.0, Some(Code::PreyTooCool)), (28.0, None), (31.0, None), (43.0, None), (44.0, Some(Code::PreyTooHot))]
        {
            let answer = meal(&format!("mass_g = 20\noutcome = \"taken\"\nsurface_c = {surface}"));
            for one in [Code::PreyTooCool, Code::PreyTooHot] {
                assert_eq!(answer.finding(one).is_some(), Some(one) == code, "{surface} °C");
            }
        }
    }

    #[test]
    fn live_prey_is_a_word_and_left_alone_it_is_more() {
        for (outcome, minutes, severity) in [
            ("refused", "", Severity::Note),
            ("refused", "minutes_left = 15", Severity::Note),
            ("refused", "minutes_left = 16", Severity::Act),
            ("left", "", Severity::Act),
            ("unseen", "", Severity::Act),
            ("left", "minutes_left = 10", Severity::Note),
        ] {
            let answer = meal(&format!("outcome = \"{outcome}\"\nstate = \"live\"\n{minutes}"));
            assert_eq!(answer.finding(Code::LivePrey).unwrap().severity, severity, "{outcome} {minutes}");
        }
    }

    #[test]
    fn each_way_of_thawing_has_its_word() {
        for (way, said) in
            [("fridge", false), ("cool-water", false), ("warm-water", false), ("microwave", true), ("hot-water", true)]
        {
            let answer = meal(&format!("mass_g = 20\noutcome = \"taken\"\nthawed = \"{way}\""));
            assert_eq!(answer.finding(Code::ThawUnsafe).is_some(), said, "{way}");
        }
        assert!(meal("mass_g = 20\noutcome = \"taken\"\nrefrozen = true").finding(Code::RefrozenPrey).is_some());
    }

    #[test]
    fn prey_left_for_hours_is_binned() {
        for (minutes, said) in [(119, false), (120, false), (121, true)] {
            let answer =
                meal(&format!("mass_g = 20\noutcome = \"left\"\nstate = \"frozen-thawed\"\nminutes_left = {minutes}"));
            assert_eq!(answer.finding(Code::PreyLeftTooLong).is_some(), said, "{minutes} min");
        }
    }

    #[test]
    fn a_year_in_the_freezer_is_enough() {
        for (bought, said) in [("2026-02-03", false), ("2026-01-25", true)] {
            let answer = meal(&format!(
                "mass_g = 20\noutcome = \"taken\"\n[[freezer]]\nclass = \"mouse-adult\"\ncount = 4\nbought = \"{bought}\""
            ));
            assert_eq!(answer.finding(Code::PreyOld).is_some(), said, "{bought}");
        }
    }

    #[test]
    fn a_meal_nobody_saw_counts_once_the_scale_says_so() {
        let unseen = meal("mass_g = 30\noutcome = \"unseen\"");
        assert!(unseen.finding(Code::MealUnconfirmed).is_some());
        let weighed = answer(
            "at = \"2027-02-06T20:00\"\n[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n[[weighing]]\nat = \"2027-01-25\"\nmass_g = 400\n[[weighing]]\nat = \"2027-02-03\"\nmass_g = 421\n\
             [[meal]]\nat = \"2027-02-01T20:00\"\nmass_g = 30\noutcome = \"unseen\"\n",
        );
        assert!(weighed.finding(Code::MealUnconfirmed).is_none());
    }
}
