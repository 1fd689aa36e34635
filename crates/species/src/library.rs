//! All data together.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::OnceLock;

use serde::Serialize;
use toml::de::DeTable;

use crate::data;
use crate::entries::{Ask, Caution, Disinfectant, Genus, PreyClass, Sign, Source, UvZone};
use crate::fault::DataFault;
use crate::find::{compared, plain};
use crate::inherit;
use crate::profile::Profile;
use crate::read::{self, Faults, File, Known, SOURCES};
use crate::rule::Rule;

/// All data: what species need, general rules, facts of the trade, and where each value comes from.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Library {
    /// Profiles: species first by key, then the general ones.
    pub profiles: Vec<Profile>,
    /// Names that must be asked about.
    pub asks: Vec<Ask>,
    /// The general rules: those of care, and the lines that the assessment draws.
    pub rules: Vec<Rule>,
    /// Facts of the trade.
    pub trade: Vec<Rule>,
    /// Prey classes, by animal and mass.
    pub prey: Vec<PreyClass>,
    /// Disinfectants.
    pub disinfectants: Vec<Disinfectant>,
    /// Zones of ultraviolet index.
    pub uv_zones: Vec<UvZone>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Families of genera, for animals without a profile of their own.
    pub genera: Vec<Genus>,
    /// What signs seen on an animal mean.
    pub signs: Vec<Sign>,
    /// Sources by key.
    pub sources: BTreeMap<String, Source>,
    /// Faults in the data. A parsed library has none; only [`library`] can have them, and the tests see that it has not.
    pub faults: Vec<DataFault>,
    cited: BTreeMap<String, BTreeSet<String>>,
    /// What every name leads to, as names are compared.
    #[serde(skip)]
    pub(crate) by_name: HashMap<String, Named>,
    version: String,
}

/// What a name leads to: a place in the list of profiles, or in the list of names to ask about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Named {
    Profile(usize),
    Ask(usize),
}

/// The data that this crate holds, parsed once.
pub fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| match Library::parse(data::FILES) {
        Ok(library) => library,
        Err(faults) => Library { faults, ..Library::default() },
    })
}

/// Files with a kind of their own. Of the others those with `[[rule]]` are general rules, and the rest are profiles.
const PREY: &str = "prey.toml";
const NAMES: &str = "names.toml";
const TRADE: &str = "trade.toml";
const DISINFECTANTS: &str = "disinfectants.toml";
const UV_ZONES: &str = "uv_zones.toml";
const CAUTIONS: &str = "cautions.toml";
const SIGNS: &str = "signs.toml";
const GENERA: &str = "genera.toml";
const OWN_KIND: [&str; 9] = [SOURCES, PREY, NAMES, TRADE, DISINFECTANTS, UV_ZONES, CAUTIONS, SIGNS, GENERA];

fn is_rules(name: &str, tree: &DeTable<'_>) -> bool {
    !OWN_KIND.contains(&name) && tree.contains_key("rule")
}

fn is_profile(name: &str, tree: &DeTable<'_>) -> bool {
    !OWN_KIND.contains(&name) && !is_rules(name, tree)
}

impl Library {
    /// Reads data files, each as name and text. What a file holds is told by its name (`sources.toml`, `prey.toml` ...);
    /// any other file holds general rules or is a profile. All faults are told at once.
    pub fn parse(files: &[(&str, &str)]) -> Result<Library, Vec<DataFault>> {
        let faults = Faults::default();
        let trees: Vec<(&str, &str, DeTable<'_>)> = files
            .iter()
            .filter_map(|(name, text)| read::tree(name, text, &faults).map(|tree| (*name, *text, tree)))
            .collect();
        let known = first_look(&trees);
        let file = |(name, text, tree)| File { name, text, tree, known: &known, faults: &faults };
        let all: Vec<File<'_>> = trees.iter().map(|(name, text, tree)| file((*name, *text, tree))).collect();
        let of = |name: &'static str| all.iter().filter(move |file| file.name == name);
        let mut library = Library {
            sources: of(SOURCES).flat_map(read::sources).map(|source| (source.key.clone(), source)).collect(),
            prey: of(PREY).flat_map(read::prey_classes).collect(),
            asks: of(NAMES).flat_map(read::asks).collect(),
            rules: all
                .iter()
                .filter(|file| is_rules(file.name, file.tree))
                .flat_map(|file| read::rules(file, "rule"))
                .collect(),
            trade: of(TRADE).flat_map(|file| read::rules(file, "fact of the trade")).collect(),
            disinfectants: of(DISINFECTANTS).flat_map(read::disinfectants).collect(),
            uv_zones: of(UV_ZONES).flat_map(read::uv_zones).collect(),
            cautions: of(CAUTIONS).flat_map(read::cautions).collect(),
            genera: of(GENERA).flat_map(read::genera).collect(),
            signs: of(SIGNS).flat_map(read::signs).collect(),
            profiles: all.iter().filter(|file| is_profile(file.name, file.tree)).map(read::profile).collect(),
            faults: Vec::new(),
            cited: BTreeMap::new(),
            by_name: HashMap::new(),
            version: fingerprint(files),
        };
        library.profiles.sort_by(|a, b| (a.general, &a.key).cmp(&(b.general, &b.key)));
        library.cited = known.cited.take();
        inherit::from_families(&mut library);
        library.index_names();

        let mut faults = faults.into_inner();
        if faults.is_empty() {
            return Ok(library);
        }
        faults.sort_by(|a, b| (&a.file, a.line, a.column).cmp(&(&b.file, b.line, b.column)));
        Err(faults)
    }

    /// The profile of that key.
    pub fn profile(&self, key: &str) -> Option<&Profile> {
        self.profiles.iter().find(|profile| profile.key == key)
    }

    /// The family of a species without a profile, by the genus of its scientific name; `None` for a genus that the
    /// data do not hold.
    pub fn family_of(&self, scientific_name: &str) -> Option<&str> {
        let genus = scientific_name.split_whitespace().next()?;
        let found = self.genera.iter().find(|one| one.genus.eq_ignore_ascii_case(genus))?;
        Some(found.family.as_str())
    }

    /// The general profile that serves for a family; `None` only when no family is given.
    pub fn family_profile(&self, family: &str) -> Option<&Profile> {
        let key = match plain(family).as_str() {
            "" => return None,
            "pythonidae" => "general_python",
            "boidae" | "erycidae" | "charinidae" | "sanziniidae" => "general_boa",
            "colubridae" | "dipsadidae" | "natricidae" | "lamprophiidae" => "general_colubrid",
            _ => "general_snake",
        };
        self.profile(key)
    }

    /// The general rule of that id.
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|rule| rule.id == id)
    }

    /// The fact of the trade of that id.
    pub fn trade_fact(&self, id: &str) -> Option<&Rule> {
        self.trade.iter().find(|rule| rule.id == id)
    }

    /// The prey class of that key.
    pub fn prey_class(&self, key: &str) -> Option<&PreyClass> {
        self.prey.iter().find(|class| class.key == key)
    }

    /// The caution of that key.
    pub fn caution(&self, key: &str) -> Option<&Caution> {
        self.cautions.iter().find(|caution| caution.key == key)
    }

    /// The source of that key.
    pub fn source(&self, key: &str) -> Option<&Source> {
        self.sources.get(key)
    }

    /// The data files that cite a source, by name.
    pub fn cited_by(&self, source: &str) -> impl Iterator<Item = &str> {
        self.cited.get(source).into_iter().flatten().map(String::as_str)
    }

    /// A short fingerprint that changes with the data.
    pub fn version(&self) -> &str {
        &self.version
    }
}

/// What the files may refer to: sources, prey classes, profiles, names that must be asked about.
fn first_look(trees: &[(&str, &str, DeTable<'_>)]) -> Known {
    let mut known = Known::default();
    for (name, _, tree) in trees {
        match *name {
            SOURCES => known.sources.extend(tree.keys().map(|key| key.get_ref().to_string())),
            PREY => known.prey.extend(read::texts_in(tree, "prey_class", "key").map(str::to_owned)),
            CAUTIONS => known.cautions.extend(read::texts_in(tree, "caution", "key").map(str::to_owned)),
            NAMES => known.asked.extend(read::texts_in(tree, "ask", "name").map(compared)),
            other if is_profile(other, tree) => {
                known.profiles.extend(tree.get("key").and_then(|key| key.get_ref().as_str()).map(str::to_owned));
            }
            _ => {}
        }
    }
    known
}

/// FNV-1a over names and texts, as twelve hexadecimal digits.
fn fingerprint(files: &[(&str, &str)]) -> String {
    const START: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0100_0000_01b3;
    let bytes = files.iter().flat_map(|(name, text)| name.bytes().chain([0]).chain(text.bytes()).chain([0]));
    let hash = bytes.fold(START, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME));
    format!("{:012x}", hash >> 16)
}
