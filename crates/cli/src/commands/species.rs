//! `warmside species [NAME]`: what a species needs, with the source of every value.

use records::Fault;
use render::terminal::{self, Look};
use serde_json::json;
use species::{Found, Profile};

use crate::arguments::Species;
use crate::exit::{Done, Ended};
use crate::out::Out;

/// Lists them, or shows one.
pub fn run(asked: &Species, out: &mut Out) -> Done {
    let library = species::library();
    let look = Look { width: out.width(), why: false };
    let name = &asked.name.join(" ");
    if name.is_empty() {
        if asked.json {
            let one = |profile: &Profile| {
                json!({ "key": profile.key, "scientific_name": profile.scientific_name, "common_names": profile.common_names,
                    "family": profile.family, "general": profile.general })
            };
            out.json(&json!({ "version": library.version(), "species": library.profiles.iter().map(one).collect::<Vec<_>>() }));
        } else {
            out.text(&terminal::profiles(library, look));
        }
        return Ok(());
    };
    match library.find(name) {
        Found::One(profile) => {
            if asked.json {
                out.json(
                    &serde_json::to_value(profile)
                        .map_err(|error| Ended::Failed(Fault::new(error.to_string(), name.clone(), "report this")))?,
                );
            } else {
                out.text(&terminal::profile(profile, library, look));
            }
            Ok(())
        }
        Found::Ask { ask, profiles } => {
            let keys: Vec<String> = profiles
                .iter()
                .map(|one| format!("{} ({})", one.common_names.first().map_or("", String::as_str), one.key))
                .collect();
            let what = format!("`{name}` fits more than one profile: {}", ask.why);
            Err(Ended::Asked(vec![Fault::new(what, "the name", format!("write one of: {}", keys.join(", ")))]))
        }
        Found::None { nearest } => {
            let mend = if nearest.is_empty() {
                "`warmside species` lists all".to_owned()
            } else {
                format!("did you mean {}?", nearest.join(", "))
            };
            Err(Ended::NotFound(Fault::new(format!("no profile is called `{name}`"), "the name", mend)))
        }
    }
}
