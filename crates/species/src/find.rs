//! Finding a profile by what a keeper calls the animal.

use std::collections::HashMap;

use crate::entries::Ask;
use crate::library::{Library, Named};
use crate::profile::Profile;

/// What a name led to.
#[derive(Clone, Debug, PartialEq)]
pub enum Found<'a> {
    /// Exactly one profile.
    One(&'a Profile),
    /// More than one profile: to be asked, never guessed.
    Ask {
        /// The name and why it must be asked.
        ask: &'a Ask,
        /// The profiles that it fits.
        profiles: Vec<&'a Profile>,
    },
    /// None.
    None {
        /// The nearest names, best first, at most five, one for each profile.
        nearest: Vec<String>,
    },
}

/// A name as it is compared: lower case, no apostrophes, `-` and `_` as spaces, single spaces.
pub(crate) fn plain(name: &str) -> String {
    let kept = name.chars().filter(|one| !matches!(one, '\'' | '’' | '‘' | '`' | '´'));
    let spaced: String = kept.map(|one| if matches!(one, '-' | '_') { ' ' } else { one }).collect();
    spaced.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A name as it is looked up: plain, and `king snake` is `kingsnake`.
pub(crate) fn compared(name: &str) -> String {
    plain(name).replace(" snake", "snake")
}

impl Profile {
    /// Every name it answers to: key, scientific names, common names.
    fn every_name(&self) -> impl Iterator<Item = &str> {
        let names = self.names.iter().chain(&self.common_names).map(String::as_str);
        [self.key.as_str(), self.scientific_name.as_str()].into_iter().chain(names)
    }
}

impl Library {
    /// The profile of that key, scientific name (current or older) or common name. Case, extra spaces, `-`, `_` and
    /// apostrophes do not matter, nor the gap in `king snake`.
    pub fn find(&self, name: &str) -> Found<'_> {
        let asked = |ask: &'_ Ask| ask.profiles.iter().filter_map(|key| self.profile(key)).collect();
        let found = match self.by_name.get(&compared(name)) {
            Some(Named::Ask(index)) => self.asks.get(*index).map(|ask| Found::Ask { ask, profiles: asked(ask) }),
            Some(Named::Profile(index)) => self.profiles.get(*index).map(Found::One),
            None => None,
        };
        found.unwrap_or_else(|| Found::None { nearest: self.nearest(&plain(name)) })
    }

    /// Indexes every name; one that must be asked about comes before the profiles that bear it.
    pub(crate) fn index_names(&mut self) {
        let asks = self.asks.iter().enumerate().map(|(index, ask)| (compared(&ask.name), Named::Ask(index)));
        let profiles =
            self.profiles.iter().enumerate().flat_map(|(index, profile)| {
                profile.every_name().map(move |name| (compared(name), Named::Profile(index)))
            });
        let mut by_name = HashMap::new();
        for (name, named) in asks.chain(profiles) {
            by_name.entry(name).or_insert(named);
        }
        self.by_name = by_name;
    }

    fn nearest(&self, wanted: &str) -> Vec<String> {
        const MOST: usize = 5;
        const NEAR_ENOUGH: f64 = 0.55;
        let best = |names: Vec<&str>| {
            let scored = names.into_iter().map(|name| (likeness(wanted, &plain(name)), name.to_owned()));
            scored.max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(&a.1)))
        };
        let own = |profile: &Profile| {
            let names = profile.names.iter().chain(&profile.common_names).map(String::as_str);
            best(names.chain([profile.scientific_name.as_str()]).collect())
        };
        let of_profiles = self.profiles.iter().filter(|profile| !profile.general).filter_map(own);
        let of_asks = self.asks.iter().filter_map(|ask| best(vec![ask.name.as_str()]));
        let mut scored: Vec<(f64, String)> =
            of_profiles.chain(of_asks).filter(|(score, _)| NEAR_ENOUGH <= *score).collect();
        scored.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        scored.into_iter().take(MOST).map(|(_, name)| name).collect()
    }
}

/// How like two names are, 0 to 1: by letters, or, where one holds all words of the other, a little less than sure.
fn likeness(wanted: &str, name: &str) -> f64 {
    const HOLDS_ALL_WORDS: f64 = 0.8;
    let letters = strsim::normalized_damerau_levenshtein(wanted, name);
    let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
    let (ours, theirs) = (words(wanted), words(name));
    let holds = |a: &[String], b: &[String]| !b.is_empty() && b.iter().all(|word| a.contains(word));
    if !wanted.is_empty() && (holds(&ours, &theirs) || holds(&theirs, &ours)) {
        letters.max(HOLDS_ALL_WORDS)
    } else {
        letters
    }
}
