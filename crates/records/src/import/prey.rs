//! Prey in the words of keepers: «2 x weaned rat (45 g), f/t».

use super::number::{self, Figure};
use super::says;
use super::unit::{Quantity, Unit};
use super::words::fold;
use crate::facts::{Outcome, Prey, PreyState};

/// What a cell says about prey.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Words {
    /// Class of prey, where the words name one.
    pub class: Option<Prey>,
    /// How many.
    pub count: Option<u32>,
    /// The mass that stands beside it.
    pub mass: Option<Figure>,
    /// Is that the mass of one item, as in «2 x 20 g»?
    pub each: bool,
    /// In what state.
    pub state: Option<PreyState>,
    /// What became of it.
    pub outcome: Option<Outcome>,
    /// Was every word understood?
    pub whole: bool,
    /// Does it name an animal that is prey, or a class of one?
    pub names_prey: bool,
    /// Is there a word that nobody knows?
    pub strange: bool,
}

impl Words {
    /// Was anything understood?
    pub fn is_something(&self) -> bool {
        self.names_prey || self.mass.is_some() || self.outcome.is_some() || (self.count.is_some() && self.whole)
    }
}

/// Prey as a keeper names it in a line of a form.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct NamedPrey {
    /// Its class, where the words name one.
    pub class: Option<Prey>,
    /// How many, where that is told.
    pub count: Option<u32>,
    /// The mass beside it, g.
    pub mass_g: Option<f64>,
}

/// Reads one kind of prey: «2 mouse-adult», «rat pup 24 g», «1 x 40 g». `None` unless every word is understood and a
/// class or a mass is among them.
pub fn named_prey(text: &str) -> Option<NamedPrey> {
    let words = read(text);
    let mass_g = match &words.mass {
        Some(figure) => Some(figure.kept(None, None)?),
        None => None,
    };
    // «rat 85 g» names no class, but the mass says enough.
    let is_understood = words.whole || (!words.strange && words.class.is_none() && mass_g.is_some());
    let says_which = words.class.is_some() || mass_g.is_some();
    let named = NamedPrey { class: words.class, count: words.count, mass_g };
    (is_understood && says_which && words.outcome.is_none()).then_some(named)
}

/// Reads a cell that may name several kinds of prey: «1 rat pup + 2 mouse hoppers».
pub(super) fn read_all(cell: &str) -> Vec<Words> {
    let folded = fold(cell);
    let mut parts = vec![folded.as_str()];
    for between in ["+", "&", ";", ", ", " and ", " und ", " et "] {
        parts = parts.into_iter().flat_map(|part| part.split(between)).collect();
    }
    let each: Vec<Words> = parts.iter().filter(|part| !part.trim().is_empty()).map(|part| read(part)).collect();
    let apart = 1 < each.len() && each.iter().all(|one| one.whole && one.class.is_some());
    if apart { each } else { vec![read(&folded)] }
}

/// Reads a text about one kind of prey.
pub(super) fn read(text: &str) -> Words {
    let folded = fold(text).replace("f/t", "ft").replace("f/k", "fk").replace(['×', '*'], "x");
    let mut words = Words { whole: true, ..Words::default() };
    if let Some(outcome) = says::outcome(&folded) {
        words.outcome = Some(outcome);
        return words;
    }
    if 80 < folded.len() {
        words.whole = false;
    }
    let mut kind = Kind::default();
    let mut rest = folded.as_str();
    let mut after_times = false;
    loop {
        rest = rest.trim_start_matches([' ', '(', ')', '[', ']', '-', ',', '.', ':', ';', '/', '\n', '\t', '_']);
        let Some(first) = rest.chars().next() else { break };
        if first.is_ascii_digit() || first == '~' {
            rest = figure(rest, &mut words, &mut after_times);
            continue;
        }
        let end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len()).max(first.len_utf8());
        let (word, next) = rest.split_at_checked(end).unwrap_or((rest, ""));
        if word == "x" {
            after_times = words.count.is_some();
        } else if !kind.take(word, &mut words) {
            words.whole = false;
            words.strange = true;
        }
        rest = next;
    }
    if says::denies(&folded) {
        // «didn't eat», «not refused»: the word alone says the opposite.
        words.outcome = None;
        words.whole = false;
    }
    words.class = kind.class();
    words.names_prey = kind.animal.is_some() || kind.stage.is_some();
    if words.names_prey && words.class.is_none() {
        words.whole = false;
    }
    words
}

/// Takes a number off the front: a mass where a unit of mass follows, a count otherwise.
fn figure<'a>(text: &'a str, words: &mut Words, after_times: &mut bool) -> &'a str {
    let bare = text.trim_start_matches(['~', ' ']);
    let Some((_, next)) = number::leading(bare) else {
        words.whole = false;
        return text.trim_start_matches(|c: char| !c.is_whitespace());
    };
    let spaced = next.trim_start();
    let end = spaced.find(|c: char| !c.is_alphabetic()).unwrap_or(spaced.len());
    let (word, after) = spaced.split_at_checked(end).unwrap_or((spaced, ""));
    let length = text.len() - spaced.len() + end;
    let written = text.get(..length).unwrap_or_default();
    let digits = text.get(..text.len() - next.len()).unwrap_or_default();
    match Unit::from_word(word) {
        Some(unit) if unit.quantity() == Quantity::Mass => {
            match number::read(written).filter(|_| words.mass.is_none()) {
                Some(figure) => {
                    words.each = *after_times;
                    words.mass = Some(figure);
                }
                None => words.whole = false,
            }
            after
        }
        Some(Unit::Piece) => {
            *after_times = word == "x";
            count(digits, words);
            after
        }
        _ => {
            count(digits, words);
            next
        }
    }
}

fn count(digits: &str, words: &mut Words) {
    match digits.trim().parse::<u32>().ok().filter(|count| (1..=500).contains(count) && words.count.is_none()) {
        Some(count) => words.count = Some(count),
        None => words.whole = false,
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Animal {
    Mouse,
    Rat,
    Other(Prey),
    Quail,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Stage {
    Pinky,
    Fuzzy,
    Hopper,
    Pup,
    Weaned,
    Small,
    Medium,
    Large,
    Adult,
    Jumbo,
    DayOld,
    Juvenile,
}

#[derive(Default)]
struct Kind {
    animal: Option<Animal>,
    stage: Option<Stage>,
    clash: bool,
}

impl Kind {
    /// Takes a word; `false` when it is not known.
    fn take(&mut self, word: &str, words: &mut Words) -> bool {
        if let Some(animal) = animal(word) {
            self.clash |= self.animal.is_some_and(|other| other != animal);
            self.animal = Some(animal);
        } else if let Some(stage) = stage(word) {
            self.clash |= self.stage.is_some_and(|other| other != stage);
            self.stage = Some(stage);
        } else if let Some(state) = state(word) {
            words.state = Some(state);
        } else if let Some(outcome) = says::outcome(word) {
            words.outcome = Some(outcome);
        } else {
            return matches!(
                word,
                "a" | "an"
                    | "the"
                    | "one"
                    | "of"
                    | "old"
                    | "day"
                    | "each"
                    | "african"
                    | "soft"
                    | "furred"
                    | "feeder"
                    | "domestic"
            );
        }
        true
    }

    fn class(&self) -> Option<Prey> {
        if self.clash {
            return None;
        }
        Some(match (self.animal, self.stage) {
            (Some(Animal::Mouse), Some(Stage::Pinky)) => Prey::MousePinky,
            (Some(Animal::Mouse), Some(Stage::Fuzzy)) => Prey::MouseFuzzy,
            // Among mice alone the trade speaks of hoppers, among rats alone of pups.
            (Some(Animal::Mouse) | None, Some(Stage::Hopper)) => Prey::MouseHopper,
            (Some(Animal::Mouse), Some(Stage::Weaned)) => Prey::MouseWeaned,
            (Some(Animal::Mouse), Some(Stage::Adult)) => Prey::MouseAdult,
            (Some(Animal::Mouse), Some(Stage::Jumbo)) => Prey::MouseJumbo,
            (Some(Animal::Rat), Some(Stage::Pinky)) => Prey::RatPinky,
            (Some(Animal::Rat), Some(Stage::Fuzzy)) => Prey::RatFuzzy,
            (Some(Animal::Rat) | None, Some(Stage::Pup)) => Prey::RatPup,
            (Some(Animal::Rat), Some(Stage::Weaned)) => Prey::RatWeaned,
            (Some(Animal::Rat), Some(Stage::Small)) => Prey::RatSmall,
            (Some(Animal::Rat), Some(Stage::Medium)) => Prey::RatMedium,
            (Some(Animal::Rat), Some(Stage::Large)) => Prey::RatLarge,
            (Some(Animal::Rat), Some(Stage::Jumbo)) => Prey::RatJumbo,
            (Some(Animal::Other(Prey::Chick)), None | Some(Stage::DayOld)) => Prey::Chick,
            (Some(Animal::Other(prey)), None) => prey,
            (Some(Animal::Quail), Some(Stage::DayOld)) => Prey::QuailDayOld,
            (Some(Animal::Quail), Some(Stage::Juvenile)) => Prey::QuailJuvenile,
            (Some(Animal::Quail), Some(Stage::Adult)) => Prey::QuailAdult,
            _ => return None,
        })
    }
}

fn animal(word: &str) -> Option<Animal> {
    Some(match word {
        "mouse" | "mice" | "maus" | "mause" | "maeuse" | "souris" | "souriceau" | "raton" | "ratones" | "topo"
        | "topi" | "topolino" | "muis" | "muizen" | "camundongo" => Animal::Mouse,
        "rat" | "rats" | "ratte" | "ratten" | "rata" | "ratas" | "ratto" | "ratti" | "ratazana" => Animal::Rat,
        "asf" | "asfs" | "softfur" | "softfurs" | "multimammate" | "vielzitzenmaus" | "vielzitzenmause"
        | "vielzitzenratte" | "mastomys" => Animal::Other(Prey::SoftFurredRat),
        "gerbil" | "gerbils" | "rennmaus" | "rennmause" | "gerbille" | "gerbilles" => Animal::Other(Prey::Gerbil),
        "rabbit" | "rabbits" | "kaninchen" | "lapin" | "lapins" | "conejo" | "coniglio" | "konijn" => {
            Animal::Other(Prey::Rabbit)
        }
        "chick" | "chicks" | "kuken" | "eintagskuken" | "poussin" | "poussins" | "pollito" | "pulcino" | "kuiken" => {
            Animal::Other(Prey::Chick)
        }
        "quail" | "quails" | "wachtel" | "wachteln" | "caille" | "codorniz" => Animal::Quail,
        "fish" | "fisch" | "fische" | "poisson" | "pez" | "pesce" | "vis" => Animal::Other(Prey::Fish),
        "earthworm" | "earthworms" | "worm" | "worms" | "regenwurm" | "regenwurmer" => Animal::Other(Prey::Earthworm),
        "lizard" | "lizards" | "echse" => Animal::Other(Prey::Lizard),
        _ => return None,
    })
}

fn stage(word: &str) -> Option<Stage> {
    Some(match word {
        "pinky" | "pinkie" | "pinkies" | "pinkys" | "pink" | "pinks" => Stage::Pinky,
        "fuzzy" | "fuzzies" | "fuzzys" | "fuzz" => Stage::Fuzzy,
        "hopper" | "hoppers" | "springer" => Stage::Hopper,
        "pup" | "pups" => Stage::Pup,
        "weaned" | "weaner" | "weaners" | "weanling" | "weanlings" => Stage::Weaned,
        "small" | "smalls" | "sm" | "klein" | "kleine" => Stage::Small,
        "medium" | "mediums" | "med" | "md" | "mittel" | "mittlere" => Stage::Medium,
        "large" | "larges" | "lg" | "gross" | "grosse" => Stage::Large,
        "adult" | "adults" | "adulte" => Stage::Adult,
        "jumbo" | "jumbos" | "xl" => Stage::Jumbo,
        "dayold" => Stage::DayOld,
        "juvenile" | "juveniles" => Stage::Juvenile,
        _ => return None,
    })
}

fn state(word: &str) -> Option<PreyState> {
    Some(match word {
        "ft" | "frozen" | "thawed" | "defrosted" | "frost" | "aufgetaut" => PreyState::FrozenThawed,
        "fk" | "pk" | "prekilled" | "killed" | "fresh" => PreyState::FreshKilled,
        "live" | "lebend" | "vivant" | "vivo" => PreyState::Live,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("rat fuzzy", Some(Prey::RatFuzzy), None)]
    #[case("Weaned rats", Some(Prey::RatWeaned), None)]
    #[case("hopper", Some(Prey::MouseHopper), None)]
    #[case("2 x rat-pup", Some(Prey::RatPup), Some(2))]
    #[case("3x mouse hoppers", Some(Prey::MouseHopper), Some(3))]
    #[case("1 Adult Mouse, f/t", Some(Prey::MouseAdult), Some(1))]
    #[case("ASF", Some(Prey::SoftFurredRat), None)]
    #[case("day old chick", Some(Prey::Chick), None)]
    fn a_class_is_understood_whole(#[case] text: &str, #[case] class: Option<Prey>, #[case] count: Option<u32>) {
        let words = read(text);
        assert_eq!((words.class, words.count, words.whole), (class, count, true), "{words:?}");
    }

    #[rstest]
    #[case("fuzzy")]
    #[case("rat")]
    #[case("small mouse")]
    #[case("mouse or rat pup")]
    #[case("brown thing")]
    fn what_names_no_single_class_is_not_guessed(#[case] text: &str) {
        let words = read(text);
        assert_eq!((words.class, words.whole), (None, false), "{words:?}");
    }

    #[rstest]
    #[case("2 mouse-adult", Some(Prey::MouseAdult), Some(2), None)]
    #[case("rat-small 85g", Some(Prey::RatSmall), None, Some(85.0))]
    #[case("1 rat-weaned 40 g", Some(Prey::RatWeaned), Some(1), Some(40.0))]
    #[case("3 x 2.5 g", None, Some(3), Some(2.5))]
    #[case("2 rats 85 g", None, Some(2), Some(85.0))]
    #[case("1.5 kg", None, None, Some(1500.0))]
    fn a_line_names_prey(
        #[case] text: &str,
        #[case] class: Option<Prey>,
        #[case] count: Option<u32>,
        #[case] mass_g: Option<f64>,
    ) {
        assert_eq!(named_prey(text), Some(NamedPrey { class, count, mass_g }));
    }

    #[rstest]
    #[case("2 rat-smal 85 g")]
    #[case("2 rats")]
    #[case("rat-small refused")]
    #[case("some of these")]
    #[case("")]
    fn a_line_that_is_not_understood_whole_names_nothing(#[case] text: &str) {
        assert_eq!(named_prey(text), None);
    }

    #[test]
    fn mass_count_state_and_outcome_are_seen() {
        let words = read("2 x 20 g rat pup (F/T) refused");
        assert_eq!((words.class, words.count, words.each), (Some(Prey::RatPup), Some(2), true));
        assert_eq!((words.state, words.outcome), (Some(PreyState::FrozenThawed), Some(Outcome::Refused)));
        assert_eq!(words.mass.and_then(|mass| mass.kept(None, None)), Some(20.0));
        assert!(!read("2 rats 40g").each);
        let denied = read("rat pup - didn't eat");
        assert_eq!((denied.class, denied.outcome, denied.whole), (Some(Prey::RatPup), None, false));
        assert_eq!(read_all("1 rat pup + 2 mouse hoppers").len(), 2);
        assert_eq!(read_all("rat pup and a surprise").len(), 1);
    }
}
