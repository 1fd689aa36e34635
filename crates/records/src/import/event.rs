//! What happened, in the words of keepers: «shed», «laid 4 eggs», «fed, in blue».
//!
//! Only what is understood to the last word becomes a record; whatever else a cell says is kept as a note.

use super::prey;
use super::says;
use super::words::fold;
use crate::choice::Choice;
use crate::facts::{BreedingWhat, CleaningTask, EndingWhat, Outcome, SignKind};

/// Something that happened.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Happening {
    /// On the scale; the mass stands elsewhere.
    Weighed,
    /// A length or girth was taken; the figure stands elsewhere.
    Measured,
    /// A temperature or humidity was read; the figure stands elsewhere.
    Read,
    /// A meal, with its prey where the words name it.
    Meal(Option<Outcome>, Option<prey::Words>),
    /// A step of a shed.
    Shed(Step),
    /// A step of breeding, with the number of eggs or young.
    Breeding(BreedingWhat, Option<u32>),
    /// A chore.
    Cleaned(CleaningTask),
    /// Handled.
    Handled,
    /// Seen.
    Seen,
    /// Came into the household.
    Arrived,
    /// Left the household, or died.
    Ended(EndingWhat),
    /// A sign.
    Sign(SignKind),
}

/// A step of a shed, the later the greater.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Step {
    Dull,
    Blue,
    Cleared,
    Off,
    /// Off, in one piece.
    OffWhole,
}

/// What a cell says.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Events {
    /// What happened.
    pub happenings: Vec<Happening>,
    /// Was every word understood?
    pub whole: bool,
}

/// Reads a cell.
pub(super) fn read(cell: &str) -> Events {
    let folded = fold(cell).replace(['’', '\''], "");
    let mut events = Events { happenings: Vec::new(), whole: true };
    let mut parts = vec![folded.as_str()];
    for between in [", ", ";", "+", "&", "\n", " / ", " and ", " und ", " et ", ","] {
        parts = parts.into_iter().flat_map(|part| part.split(between)).collect();
    }
    for part in parts.into_iter().map(str::trim).filter(|part| !part.is_empty()) {
        match one(part) {
            Some(happening) => events.happenings.push(happening),
            None => events.whole = false,
        }
    }
    events
}

fn one(part: &str) -> Option<Happening> {
    if 60 < part.len() {
        return None;
    }
    if let Some(happening) = plain(part.trim_end_matches(['.', '!'])) {
        return Some(happening);
    }
    let words: Vec<&str> = part.split([' ', '-', '_', ':', '(', ')', '.']).filter(|word| !word.is_empty()).collect();
    let mut count = None;
    let mut bare = Vec::new();
    for word in &words {
        match word.parse::<u32>() {
            Ok(number) if count.is_none() => count = Some(number),
            Ok(_) => return None,
            Err(_) => bare.push(*word),
        }
    }
    let young = |word: &&str| {
        matches!(
            *word,
            "egg"
                | "eggs"
                | "ei"
                | "eier"
                | "oeuf"
                | "oeufs"
                | "huevos"
                | "uova"
                | "young"
                | "babies"
                | "neonates"
                | "jungtiere"
        )
    };
    if bare.iter().any(young) || count.is_some() {
        let rest: Vec<&str> = bare.iter().copied().filter(|word| !young(word)).collect();
        if let Some(Happening::Breeding(what, _)) = plain(&rest.join(" ")) {
            return Some(Happening::Breeding(what, count.filter(|count| *count <= 500)));
        }
    }
    meal(&words)
}

/// «ate 1 weaned rat», «fed: rat pup», «refused a mouse hopper».
fn meal(words: &[&str]) -> Option<Happening> {
    let (first, rest) = words.split_first()?;
    let Some(Happening::Meal(outcome, None)) = plain(first) else {
        return None;
    };
    let prey = prey::read(&rest.join(" "));
    let understood = prey.whole && (prey.class.is_some() || prey.mass.is_some());
    understood.then_some(Happening::Meal(outcome.or(prey.outcome), Some(prey)))
}

fn plain(phrase: &str) -> Option<Happening> {
    let words = phrase.replace(['-', '_'], " ");
    if let Some(outcome) = says::outcome(&words).filter(|_| !matches!(words.as_str(), "left" | "gone" | "fed")) {
        return Some(Happening::Meal(Some(outcome), None));
    }
    Some(match words.as_str() {
        "weighing" | "weighed" | "weight" | "weigh" | "weigh in" | "gewogen" | "wiegen" | "gewicht" | "pesee"
        | "pese" | "peso" | "pesado" | "pesata" | "gewogen worden" | "mass" => Happening::Weighed,
        "measuring" | "measured" | "measurement" | "length" | "girth" | "gemessen" | "mesure" | "medida" => {
            Happening::Measured
        }
        "temperature" | "humidity" | "reading" | "climate" | "temperatur" | "luftfeuchte" => Happening::Read,
        "feeding" | "feed" | "fed" | "meal" | "futterung" | "gefuttert" | "nourri" | "nourrissage" | "repas"
        | "alimentacion" | "comida" | "pasto" | "voeding" | "gevoerd" | "alimentacao" => Happening::Meal(None, None),
        "shed" | "sheds" | "shedding" | "slough" | "sloughed" | "ecdysis" | "molt" | "moult" | "molted" | "moulted"
        | "hautung" | "haeutung" | "gehautet" | "gehaeutet" | "mue" | "muda" | "muta" | "vervelling" | "verveld"
        | "skin off" | "shed skin" => Happening::Shed(Step::Off),
        "complete shed" | "full shed" | "whole shed" | "shed complete" | "shed whole" | "shed in one piece"
        | "one piece shed" | "perfect shed" | "clean shed" => Happening::Shed(Step::OffWhole),
        "blue" | "in blue" | "opaque" | "eyes blue" | "cloudy eyes" | "blue eyes" | "gone blue" => {
            Happening::Shed(Step::Blue)
        }
        "dull" | "gone dull" | "skin dull" => Happening::Shed(Step::Dull),
        "cleared" | "eyes cleared" | "eyes clear" | "cleared up" => Happening::Shed(Step::Cleared),
        "laid" | "laid eggs" | "egg laying" | "oviposition" | "oviposited" | "eiablage" | "gelegt" | "ponte"
        | "puesta" | "deposizione" | "clutch laid" => Happening::Breeding(BreedingWhat::Laid, None),
        "gave birth" | "parturition" | "birthed" => Happening::Breeding(BreedingWhat::Born, None),
        "paired" | "pairing" | "mated" | "mating" | "copulation" | "copulated" | "paarung" | "verpaart"
        | "accouplement" | "copula" | "accoppiamento" | "paring" => Happening::Breeding(BreedingWhat::Paired, None),
        "gravid" | "trachtig" | "gravide" | "gravida" => Happening::Breeding(BreedingWhat::Gravid, None),
        "water" | "water change" | "water changed" | "fresh water" | "wasserwechsel" | "wasser" => {
            Happening::Cleaned(CleaningTask::Water)
        }
        "spot clean" | "spot cleaned" | "spot cleaning" | "clean" | "cleaned" | "cleaning" | "gereinigt"
        | "reinigung" | "nettoyage" | "limpieza" | "pulizia" | "schoonmaak" => Happening::Cleaned(CleaningTask::Spot),
        "full clean" | "full cleaned" | "full cleaning" | "deep clean" | "deep cleaned" | "substrate change"
        | "substrate changed" | "grundreinigung" => Happening::Cleaned(CleaningTask::Full),
        "handled" | "handling" => Happening::Handled,
        "seen" | "checked" | "gesehen" => Happening::Seen,
        "arrived" | "arrival" | "acquired" | "bought" | "purchased" | "ankunft" | "gekauft" => Happening::Arrived,
        "died" | "death" | "gestorben" | "tod" | "deceased" => Happening::Ended(EndingWhat::Died),
        "sold" | "verkauft" | "vendu" | "vendido" | "venduto" | "verkocht" => Happening::Ended(EndingWhat::Sold),
        "given away" | "rehomed" | "abgegeben" => Happening::Ended(EndingWhat::Given),
        "mites" => Happening::Sign(SignKind::MitesSeen),
        "ticks" => Happening::Sign(SignKind::TicksSeen),
        words => {
            let sign = SignKind::from_key(&words.replace(' ', "-"))?;
            // These words say more, or less, than the sign of the same name: they stay as they were written.
            let unclear = matches!(sign, SignKind::Other | SignKind::Found | SignKind::Missing | SignKind::LaidEggs);
            if unclear { None } else { Some(Happening::Sign(sign)) }?
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("shed", Happening::Shed(Step::Off))]
    #[case("Häutung", Happening::Shed(Step::Off))]
    #[case("in blue", Happening::Shed(Step::Blue))]
    #[case("Laid 12 eggs", Happening::Breeding(BreedingWhat::Laid, Some(12)))]
    #[case("refused", Happening::Meal(Some(Outcome::Refused), None))]
    #[case("didn't eat", Happening::Meal(Some(Outcome::Refused), None))]
    #[case("full clean", Happening::Cleaned(CleaningTask::Full))]
    #[case("weighing", Happening::Weighed)]
    #[case("mites", Happening::Sign(SignKind::MitesSeen))]
    #[case("wheezing", Happening::Sign(SignKind::Wheezing))]
    fn a_phrase_is_understood_whole(#[case] text: &str, #[case] expected: Happening) {
        assert_eq!(read(text), Events { happenings: vec![expected], whole: true });
    }

    #[test]
    fn what_is_understood_in_part_is_told_so() {
        let laid = read("laid 4 eggs, 472 g in total");
        assert_eq!(laid.happenings, [Happening::Breeding(BreedingWhat::Laid, Some(4))]);
        assert!(!laid.whole);
        assert_eq!(read("fed, shed").happenings.len(), 2);
        for text in [
            "no shed",
            "about to shed",
            "not fed",
            "shed soon?",
            "vet visit",
            "hatched",
            "ate half",
            "laid 4 eggs 2 slugs",
        ] {
            assert_eq!(read(text), Events { happenings: vec![], whole: false }, "{text}");
        }
    }

    #[test]
    fn a_meal_may_name_its_prey() {
        match read("ate 2 rat pups").happenings.as_slice() {
            [Happening::Meal(Some(Outcome::Taken), Some(prey))] => assert_eq!(prey.count, Some(2)),
            other => panic!("{other:?}"),
        }
    }
}
