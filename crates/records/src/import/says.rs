//! The short words of cells: yes and no, sex, the outcome of a meal, and the many ways to write nothing.

use super::words::fold;
use crate::facts::{Outcome, Sex};

/// Is nothing written in a cell, in one of the ways in which people write nothing?
pub(super) fn is_nothing(cell: &str) -> bool {
    matches!(
        fold(cell).as_str(),
        "" | "-"
            | "--"
            | "---"
            | "–"
            | "—"
            | "/"
            | "."
            | "?"
            | "n/a"
            | "na"
            | "n.a."
            | "#n/a"
            | "nan"
            | "null"
            | "none"
            | "nil"
            | "k.a."
            | "k. a."
            | "unknown"
            | "unbekannt"
            | "inconnu"
            | "not recorded"
            | "not measured"
            | "not weighed"
    )
}

/// Reads a yes or a no.
pub(super) fn yes(cell: &str) -> Option<bool> {
    match fold(cell).trim_end_matches(['.', '!']) {
        "yes" | "y" | "true" | "1" | "x" | "✓" | "✔" | "✔\u{fe0f}" | "ja" | "j" | "oui" | "si" | "sim" | "wahr"
        | "vrai" | "done" => Some(true),
        "no" | "n" | "false" | "0" | "nein" | "non" | "nao" | "nee" | "falsch" | "faux" | "✗" | "✘" => Some(false),
        _ => None,
    }
}

/// Reads a sex. The trade also writes numbers of males and females: 1.0 is a male, 0.1 a female.
pub(super) fn sex(cell: &str) -> Option<Sex> {
    match fold(cell).trim_end_matches('.') {
        "f" | "female" | "fem" | "w" | "weiblich" | "weibchen" | "femelle" | "hembra" | "h" | "femmina" | "vrouw"
        | "vrouwelijk" | "v" | "pop" | "femea" | "0.1" | "0,1" | "♀" | "♀\u{fe0f}" | "girl" => Some(Sex::Female),
        "m" | "male" | "mannlich" | "maennlich" | "mannchen" | "maennchen" | "macho" | "maschio" | "man"
        | "mannelijk" | "1.0" | "1,0" | "♂" | "♂\u{fe0f}" | "boy" => Some(Sex::Male),
        "unknown" | "u" | "?" | "unsexed" | "0.0.1" | "0,0,1" | "unbekannt" | "inconnu" | "indetermine"
        | "desconocido" | "n/a" | "onbekend" => Some(Sex::Unknown),
        _ => None,
    }
}

/// Reads what became of a meal, in words.
pub(super) fn outcome(cell: &str) -> Option<Outcome> {
    let folded = fold(cell).replace(['’', '\''], "");
    Some(match folded.trim().trim_end_matches(['.', '!']) {
        "taken" | "took" | "ate" | "eaten" | "eat" | "eats" | "fed" | "accepted" | "consumed" | "swallowed"
        | "success" | "struck and ate" | "gefressen" | "genommen" | "angenommen" | "mange" | "accepte" | "comio"
        | "comido" | "acepto" | "aceptado" | "aceptada" | "mangiato" | "accettato" | "gegeten" | "genomen"
        | "comeu" | "aceitou" => Outcome::Taken,
        "refused" | "refusal" | "refuse" | "refuses" | "rejected" | "declined" | "not eaten" | "not taken"
        | "not accepted" | "did not eat" | "didnt eat" | "not interested" | "no interest" | "uninterested"
        | "would not eat" | "wouldnt eat" | "verweigert" | "abgelehnt" | "nicht gefressen" | "nicht genommen"
        | "refusee" | "non mange" | "pas mange" | "rechazo" | "rechazado" | "rechazada" | "no comio" | "rifiutato"
        | "non mangiato" | "geweigerd" | "niet gegeten" | "recusou" | "recusado" | "nao comeu" => Outcome::Refused,
        "left" | "left in" | "left overnight" | "untouched" | "liegen gelassen" => Outcome::Left,
        "unseen" | "gone" | "gone by morning" | "gone in the morning" | "presumed eaten" => Outcome::Unseen,
        "regurgitated" | "regurgitation" | "regurge" | "regurged" | "regurg" | "brought up" | "vomited"
        | "regurgitiert" | "erbrochen" | "hochgewurgt" | "ausgewurgt" | "regurgite" | "regurgito" | "regurgitado"
        | "rigurgitato" => Outcome::Regurgitated,
        _ => return None,
    })
}

/// Do free words speak of prey that was not taken, or came up again? They change nothing by themselves.
pub(super) fn speaks_of_refusal(text: &str) -> bool {
    const STEMS: [&str; 24] = [
        "refus",
        "reject",
        "declin",
        "regurg",
        "vomit",
        "not eat",
        "didnt eat",
        "not take",
        "didnt take",
        "not interest",
        "no interest",
        "uninterest",
        "off food",
        "wouldnt",
        "not struck",
        "verweiger",
        "nicht gefressen",
        "abgelehnt",
        "ausgewurgt",
        "rechaz",
        "no comio",
        "rifiut",
        "geweiger",
        "recus",
    ];
    let folded = fold(text).replace(['’', '\''], "");
    STEMS.iter().any(|stem| folded.contains(stem))
}

/// Is there a «no» or «not» among the words?
pub(super) fn denies(text: &str) -> bool {
    const WORDS: [&str; 15] = [
        "no", "not", "never", "nein", "nicht", "non", "pas", "niet", "nao", "didnt", "didn", "wouldnt", "wouldn",
        "doesn", "without",
    ];
    let folded = fold(text);
    folded.split(|c: char| !c.is_alphanumeric()).any(|word| WORDS.contains(&word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_means_two_things() {
        for cell in ["yes", "x", "0", "ja", "nein", "✓"] {
            assert!(yes(cell).is_some() && outcome(cell).is_none(), "{cell}");
        }
        assert_eq!(outcome("Refusé"), Some(Outcome::Refused));
        assert_eq!(outcome("Didn't eat."), Some(Outcome::Refused));
        assert_eq!((sex("0.1"), sex("♂"), sex("W")), (Some(Sex::Female), Some(Sex::Male), Some(Sex::Female)));
        assert!(outcome("ate half").is_none() && outcome("not fed").is_none() && yes("").is_none());
    }
}
