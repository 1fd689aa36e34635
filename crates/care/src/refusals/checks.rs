//! Six things to look at when an animal refuses, always in the same order: how warm it is, a shed, a move or another
//! disturbance, season and sex, the prey, mass and health. Each is answered from the records where they can.
//!
//! The order is that in which keepers who know ask: what is quickest to measure and most often wrong comes first, what
//! only a veterinarian can settle last. One thing is changed at a time, or nobody learns which it was.

use records::facts::{Outcome, PlannedWhat};
use units::Moment;

use super::Offers;
use crate::answer::{Answer, Code, Evidence, Finding, Severity, SourceRef};
use crate::draft::{all_seen, seen};
use crate::lines;
use crate::rules::arrival::beginnings;
use crate::season::in_season;
use crate::sheds::{self, By, WhyNot};
use crate::signs::Signs;
use crate::view::{View, celsius, days, number, plural};

/// What a check came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The records show nothing wrong here.
    Clear,
    /// This may be why.
    MayBeWhy,
    /// The records do not tell.
    NotKnown,
}

impl Verdict {
    /// In a word or two.
    pub fn says(self) -> &'static str {
        match self {
            Verdict::Clear => "in order",
            Verdict::MayBeWhy => "may be why",
            Verdict::NotKnown => "not known",
        }
    }
}

/// One of the six.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Its name in JSON.
    pub key: &'static str,
    /// The question.
    pub asks: &'static str,
    /// What it came to.
    pub verdict: Verdict,
    /// What the records say.
    pub says: String,
    /// What to do about it, where there is something.
    pub does: Option<String>,
    /// The records it rests on.
    pub records: Vec<Evidence>,
    /// Where the line that it is held against comes from.
    pub source: Option<SourceRef>,
}

/// The six, in their order. `answer` is the assessment at the same moment: what it found of climate and health is not
/// judged twice.
pub fn checks(view: &View<'_>, answer: &Answer, offers: &Offers) -> [Check; 6] {
    [warmth(view, answer), shed(view), disturbed(view), season(view), prey(view, answer, offers), health(view, answer)]
}

fn check(key: &'static str, asks: &'static str, verdict: Verdict, says: impl Into<String>) -> Check {
    Check { key, asks, verdict, says: says.into(), does: None, records: Vec::new(), source: None }
}

impl Check {
    fn on(mut self, records: impl IntoIterator<Item = Evidence>) -> Check {
        self.records.extend(records);
        self
    }

    fn by(mut self, source: Option<SourceRef>) -> Check {
        self.source = self.source.or(source);
        self
    }

    fn does(mut self, does: impl Into<String>) -> Check {
        self.does = Some(does.into());
        self
    }
}

/// The gravest finding of any of these codes.
fn found<'a>(answer: &'a Answer, codes: &[Code]) -> Option<&'a Finding> {
    answer.findings.iter().filter(|one| codes.contains(&one.code)).max_by_key(|one| one.severity)
}

fn of_finding(key: &'static str, asks: &'static str, one: &Finding) -> Check {
    check(key, asks, Verdict::MayBeWhy, one.says.clone())
        .does(one.does.clone())
        .on(one.records.iter().copied())
        .by(one.source.first().cloned())
}

fn warmth(view: &View<'_>, answer: &Answer) -> Check {
    const KEY: &str = "warmth";
    const ASKS: &str = "How warm is it?";
    const CODES: [Code; 13] = [
        Code::WarmSurfaceHot,
        Code::WarmSurfaceCool,
        Code::WarmAirHot,
        Code::WarmAirCool,
        Code::CoolSideWarm,
        Code::CoolSideCold,
        Code::NightCold,
        Code::NoGradient,
        Code::TooColdToDigest,
        Code::ThermostatFaultSuspected,
        Code::PowerOut,
        Code::RewarmSlowly,
        Code::UnitSuspect,
    ];
    if let Some(one) = found(answer, &CODES) {
        return of_finding(KEY, ASKS, one);
    }
    let wanted = view.profile.temperature.warm_ambient_c.first();
    let Some((warm_c, wanted)) = view.warmth.warm_c.zip(wanted) else {
        return check(KEY, ASKS, Verdict::NotKnown, "No temperature of the warm side was read in 14 days.")
            .does("Measure the warm side now, and the night's lowest.")
            .by(wanted.map(SourceRef::of));
    };
    let range = format!("{} to {}", number(wanted.low), celsius(wanted.high));
    let records = view.warmth.records.iter().copied();
    let source = Some(SourceRef::of(wanted));
    if (wanted.low..=wanted.high).contains(&((warm_c * 10.0).round() / 10.0)) {
        let cool = view.warmth.cool_c.filter(|_| !view.warmth.cool_is_assumed);
        let cool = cool.map_or(String::new(), |degrees| format!(", cool side {}", celsius(degrees)));
        let says = format!("Warm side {}{cool}; {range} is wanted at the warm end: in range.", celsius(warm_c));
        return check(KEY, ASKS, Verdict::Clear, says).on(records).by(source);
    }
    let side = if warm_c < wanted.low { "below" } else { "above" };
    let says = format!("Warm side {}; {range} is wanted: a little {side} it.", celsius(warm_c));
    check(KEY, ASKS, Verdict::MayBeWhy, says).does("Set it right, and measure again tomorrow.").on(records).by(source)
}

fn shed(view: &View<'_>) -> Check {
    const KEY: &str = "shed";
    const ASKS: &str = "Is a shed on its way?";
    let lead = lines::whole("shed_lead").map_or((f64::NAN, f64::NAN), |figure| (figure.low, figure.high));
    let source = Some(lines::source("shed_lead"));
    match sheds::next(view) {
        Ok(next) if next.by != By::Rhythm => {
            let step = match next.by {
                By::Dull => "It is dull",
                By::Blue => "Its eyes are blue",
                By::Cleared | By::Rhythm => "Its eyes have cleared",
            };
            let says = format!("{step} since {}: most refuse until the skin is off.", view.date(next.since));
            let until = view.date(next.range.high);
            check(KEY, ASKS, Verdict::MayBeWhy, says)
                .does(format!("Wait until the skin has been off for a day (by {until}, in nine cases of ten)."))
                .on(view.open_shed().map(seen))
                .by(source)
        }
        Ok(next) => {
            let chance = next.within_pct(view.now, lead.1).unwrap_or(0.0);
            let span = format!("{} and {}", view.date(next.range.low), view.date(next.range.high));
            let says = format!(
                "The next shed is likely between {span} ({chance:.0} % within {lead} days); many take nothing for {} to {lead} days before it",
                number(lead.0),
                lead = number(lead.1)
            );
            if lines::low("refusal_before_shed").value <= chance {
                check(KEY, ASKS, Verdict::MayBeWhy, format!("{says}."))
                    .does("Look at its eyes and its belly for a dull, milky look before the next offer.")
                    .by(source)
            } else {
                check(KEY, ASKS, Verdict::Clear, format!("{says}: too early for that.")).by(source)
            }
        }
        Err(WhyNot::NoShed) => check(KEY, ASKS, Verdict::NotKnown, "No shed is on record.")
            .does("Look at its eyes and its belly for a dull, milky look.")
            .by(source),
        Err(why) => check(KEY, ASKS, Verdict::NotKnown, why.says())
            .does("Look at its eyes and its belly for a dull, milky look.")
            .by(source),
    }
}

/// Something that may have upset it.
struct Upset {
    at: Moment,
    says: String,
    records: Vec<Evidence>,
}

fn disturbed(view: &View<'_>) -> Check {
    const KEY: &str = "disturbance";
    const ASKS: &str = "Was it moved or disturbed?";
    let span = lines::whole("refusal_disturbed").map_or((f64::NAN, f64::NAN), |figure| (figure.low, figure.high));
    let source = Some(lines::source("refusal_disturbed"));
    let since = |days: f64| view.now.plus_days(-days);
    let mut upsets: Vec<Upset> = Vec::new();
    for one in beginnings(view).into_iter().filter(|one| since(span.1) <= one.at.to) {
        upsets.push(Upset { at: one.at.from, says: one.words, records: vec![one.evidence] });
    }
    for plan in view.line.planned.iter().filter(|plan| plan.from.from <= view.now && since(span.1) <= plan.ends()) {
        let what = match plan.what {
            PlannedWhat::Transport => "a journey",
            PlannedWhat::MovingHouse => "a move of house",
            PlannedWhat::Show => "a show",
            PlannedWhat::EnclosureChange => "a change of its enclosure",
            PlannedWhat::VetVisit => "a visit to the veterinarian",
            PlannedWhat::KeeperAway | PlannedWhat::AnimalAway | PlannedWhat::Visit | PlannedWhat::Brumation => continue,
        };
        let says = format!("There was {what} on {}", view.date_of(plan.from));
        upsets.push(Upset { at: plan.from.from, says, records: vec![seen(plan)] });
    }
    let handled: Vec<_> = view.line.handlings.iter().rev().take_while(|one| since(span.0) <= one.at.to).collect();
    let often = lines::high("handling_per_week").value;
    let before_h = lines::low("handle_before_meal").value;
    let before_offer = handled.iter().find(|one| {
        let refused = view.meals.refusals.iter().filter_map(|index| view.line.meals.get(*index));
        refused.into_iter().any(|meal| (0.0..before_h).contains(&meal.at.to.hours_since(one.at.from)))
    });
    if often < handled.len() as f64 {
        let says = format!("It was handled {} in {} days", times_in_words(handled.len()), number(span.0));
        upsets.push(Upset { at: view.now, says, records: all_seen(handled.iter().copied()) });
    } else if let Some(one) = before_offer {
        let says = format!("It was handled on {}, within a day before an offer that was refused", view.date_of(one.at));
        upsets.push(Upset { at: one.at.from, says, records: vec![seen(one)] });
    }
    if let Some(mates) = view.enclosure().filter(|home| home.cohabitants.is_some_and(|others| 0 < others)) {
        let says = "It shares its enclosure, and another one there may keep it from eating".to_owned();
        upsets.push(Upset { at: view.now, says, records: vec![crate::draft::undated(mates.key)] });
    }
    upsets.sort_by_key(|one| std::cmp::Reverse(one.at));
    if upsets.is_empty() {
        let noted = !view.line.handlings.is_empty();
        let says = format!(
            "No move, journey or change of its home is on record in the last {} days, and {}.",
            number(span.1),
            if noted { "it was hardly handled" } else { "no handling" }
        );
        let verdict = if noted { Verdict::Clear } else { Verdict::NotKnown };
        let found = check(KEY, ASKS, verdict, says).by(source);
        return if noted {
            found
        } else {
            found.does("Think back: a new neighbour, noise, a bare enclosure, hands in it?")
        };
    }
    let records: Vec<Evidence> = upsets.iter().flat_map(|one| one.records.iter().copied()).collect();
    let says: Vec<String> = upsets.into_iter().map(|one| one.says).collect();
    check(KEY, ASKS, Verdict::MayBeWhy, format!("{}.", says.join(". ")))
        .does("Leave it in peace, with tight hides at both ends, and offer in the dark hours.")
        .on(records)
        .by(source)
}

fn times_in_words(count: usize) -> String {
    plural(count as f64, "time")
}

fn season(view: &View<'_>) -> Check {
    const KEY: &str = "season";
    const ASKS: &str = "Is it the season, or breeding?";
    let fasting = &view.profile.fasting;
    let source = fasting
        .seasons
        .first()
        .map(|season| SourceRef { key: season.from.source.clone().into(), status: season.from.status });
    if let Some(gravid) = view.gravid() {
        return check(
            KEY,
            ASKS,
            Verdict::MayBeWhy,
            "She is noted as gravid: many take nothing, or little, until they have laid.",
        )
        .on([seen(gravid)])
        .by(source);
    }
    if view.brooding().is_some() {
        return check(
            KEY,
            ASKS,
            Verdict::MayBeWhy,
            "She has laid and broods: such females take nothing until the eggs have hatched.",
        )
        .by(source);
    }
    const PAIRED_LATELY_D: f64 = 60.0;
    let paired = view
        .line
        .breedings
        .iter()
        .rev()
        .find(|one| one.what == records::facts::BreedingWhat::Paired && view.days_since(one.at) <= PAIRED_LATELY_D);
    if let Some(paired) = paired {
        let says = format!("It was paired on {}: in the breeding season many take nothing.", view.date_of(paired.at));
        return check(KEY, ASKS, Verdict::MayBeWhy, says).on([seen(paired)]).by(source);
    }
    if in_season(view) {
        let says = format!("Its species is known to pause now ({}).", fasting.season);
        return check(KEY, ASKS, Verdict::MayBeWhy, says)
            .does("Go by its mass: weigh it every two weeks, and offer at two to three times the usual gap.")
            .by(source);
    }
    let month = view.zone.date(view.now).month();
    let autumn = if view.is_southern() == Some(true) { 3..=5 } else { 9..=11 };
    if view.profile.climate == species::Climate::Temperate && autumn.contains(&month) {
        return check(
            KEY,
            ASKS,
            Verdict::MayBeWhy,
            "It is autumn, and species of temperate lands cut feeding then, whatever the heat.",
        )
        .by(Some(lines::source("refusal_autumn")));
    }
    let sex = match view.sex() {
        Some(_) => String::new(),
        None => " Its sex is not known, and males of many kinds stop in the breeding season.".to_owned(),
    };
    let says = if fasting.seasons.is_empty() {
        format!("No season is known in which its species pauses.{sex}")
    } else {
        format!("It is not the season in which its species pauses ({}).{sex}", fasting.season)
    };
    check(KEY, ASKS, Verdict::Clear, says).by(source)
}

fn prey(view: &View<'_>, answer: &Answer, offers: &Offers) -> Check {
    const KEY: &str = "prey";
    const ASKS: &str = "Is the prey right?";
    const CODES: [Code; 6] =
        [Code::PreyLarge, Code::PreySmall, Code::PreyTooCool, Code::PreyTooHot, Code::PreyOld, Code::RefrozenPrey];
    let refused = offers.run().last().and_then(|offer| view.line.meals.get(offer.index));
    let refused = refused
        .or_else(|| view.line.meals.iter().rev().find(|meal| matches!(meal.outcome, Outcome::Refused | Outcome::Left)));
    let Some(meal) = refused else {
        return check(KEY, ASKS, Verdict::NotKnown, "No refused offer is on record.");
    };
    if let Some(one) = found(answer, &CODES) {
        return of_finding(KEY, ASKS, one);
    }
    let mut amiss: Vec<String> = Vec::new();
    let mut known: Vec<String> = Vec::new();
    let mut open: Vec<&str> = Vec::new();
    let mut source = None;
    let body_g = view.masses.last().and_then(|last| last.empty_g);
    let mass = crate::digestion::prey_mass_g(meal).map(|(mass, _)| mass);
    match (mass.zip(body_g), view.feeding()) {
        (Some((mass, body)), Some(feeding)) => {
            let (share, (low, high)) = (100.0 * mass / body, feeding.prey_pct);
            source = Some(SourceRef::of(&feeding.interval_d));
            let words = format!("{} % of its mass, {} to {} % is usual", number(share), number(low), number(high));
            if high < share { amiss.push(words) } else { known.push(words) }
        }
        _ => open.push("how large it was against the animal"),
    }
    let taken = offers.0.iter().rev().filter(|offer| offer.taken).filter_map(|offer| view.line.meals.get(offer.index));
    let last_taken = taken.into_iter().find(|taken| taken.prey.is_some());
    match meal.prey.zip(last_taken.and_then(|taken| taken.prey)) {
        Some((now, then)) if kind(now) != kind(then) => {
            amiss.push(format!("a {} where it took a {} before", kind(now), kind(then)));
        }
        Some((now, _)) => known.push(format!("a {}, as before", kind(now))),
        None => open.push("of what kind"),
    }
    match meal.surface_c {
        Some(surface) if surface < lines::low("prey_surface_temp").value => {
            amiss.push(format!("{} at its surface: cool", celsius(surface)));
        }
        Some(surface) => known.push(format!("{} at its surface", celsius(surface))),
        None => open.push("how warm"),
    }
    let on = view.date_of(meal.at);
    let open = if open.is_empty() { String::new() } else { format!(" Not noted: {}.", open.join(", ")) };
    let (verdict, words) = if !amiss.is_empty() {
        (Verdict::MayBeWhy, &amiss)
    } else if known.is_empty() || meal.surface_c.is_none() {
        (Verdict::NotKnown, &known)
    } else {
        (Verdict::Clear, &known)
    };
    let says = if words.is_empty() {
        format!("Of the prey refused on {on} nothing is noted.")
    } else {
        format!("Prey refused on {on}: {}.{open}", words.join("; "))
    };
    let warm = lines::whole("prey_surface_temp")
        .map_or(String::new(), |figure| format!("{} to {}", number(figure.low), celsius(figure.high)));
    let does = match verdict {
        Verdict::Clear => None,
        _ => Some(format!("Offer the kind and size it took last, dry and {warm} at the surface, and note all three.")),
    };
    Check {
        does,
        ..check(KEY, ASKS, verdict, says)
            .on([seen(meal)])
            .by(source.or_else(|| Some(lines::source("prey_surface_temp"))))
    }
}

/// The kind of prey without its size: the first word of the class.
fn kind(prey: records::facts::Prey) -> &'static str {
    let key = records::choice::Choice::key(prey);
    key.split_once('-').map_or(key, |(kind, _)| kind)
}

fn health(view: &View<'_>, answer: &Answer) -> Check {
    const KEY: &str = "health";
    const ASKS: &str = "Does it lose mass, or show a sign of illness?";
    let signs = Signs::of(view);
    let telling: Vec<_> = signs.iter().filter(|one| one.meaning.code.is_some()).collect();
    if let Some(sign) = telling.first() {
        let says: Vec<&str> = telling.iter().map(|one| one.meaning.says).collect();
        return check(KEY, ASKS, Verdict::MayBeWhy, format!("Noted and not over: {}.", says.join(", ")))
            .does(sign.meaning.does)
            .on(telling.iter().flat_map(|one| one.evidence()))
            .by(Some(sign.meaning.source.clone()));
    }
    if let Some(one) = found(answer, &[Code::MassLossVet, Code::MassLossWatch, Code::Emaciation, Code::ConditionThin]) {
        let verdict = if Severity::Vet <= one.severity { Verdict::MayBeWhy } else { Verdict::NotKnown };
        return Check { verdict, ..of_finding(KEY, ASKS, one) };
    }
    let vet = lines::low("weight_loss_vet");
    const FRESH_D: f64 = 30.0;
    match view.masses.last().filter(|_| view.masses.is_known_within(FRESH_D, view.now)) {
        None => {
            check(KEY, ASKS, Verdict::NotKnown, format!("It was not weighed in the last {} days.", number(FRESH_D)))
                .does("Weigh it before the next offer; look at mouth, eyes, skin and waste.")
                .by(Some(vet.source))
        }
        Some(last) => {
            let ago = days(view.now.days_since(last.at));
            let loss = match view.masses.loss_pct {
                Some(loss) if 0.5 <= loss => format!("{} % lighter than its best of the last year", number(loss)),
                Some(_) => "as heavy as its best of the last year".to_owned(),
                None => "with nothing earlier to compare".to_owned(),
            };
            let says = format!("Weighed {ago} ago: {loss}; no sign of illness is noted.");
            let verdict = if view.masses.loss_pct.is_some() { Verdict::Clear } else { Verdict::NotKnown };
            check(KEY, ASKS, verdict, says).on(view.line.weighings.get(last.index).map(seen)).by(Some(vet.source))
        }
    }
}
