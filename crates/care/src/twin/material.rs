//! What walls and floors are made of, by the words that keepers use.

use science::physics::materials::Material;

/// Words for materials of walls, each with its material.
const WALLS: [(&str, Material); 22] = [
    ("glass", Material::Glass),
    ("acrylic", Material::Acrylic),
    ("polycarbonate", Material::Polycarbonate),
    ("pvc", Material::FoamedPvc),
    ("foamed pvc", Material::FoamedPvc),
    ("foamed-pvc", Material::FoamedPvc),
    ("expanded pvc", Material::FoamedPvc),
    ("solid pvc", Material::SolidPvc),
    ("solid-pvc", Material::SolidPvc),
    ("tub", Material::Polypropylene),
    ("plastic", Material::Polypropylene),
    ("polypropylene", Material::Polypropylene),
    ("hdpe", Material::Hdpe),
    ("polyethylene", Material::Hdpe),
    ("wood", Material::Plywood),
    ("plywood", Material::Plywood),
    ("mdf", Material::Mdf),
    ("chipboard", Material::Chipboard),
    ("melamine", Material::Chipboard),
    ("osb", Material::Chipboard),
    ("polystyrene", Material::Polystyrene),
    ("foam", Material::Polystyrene),
];

/// Words that say that nobody knows.
const UNKNOWN: [&str; 5] = ["unknown", "don't know", "dont know", "not known", "?"];

/// A material of walls as it was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// A known one.
    Is(Material),
    /// The keeper does not know.
    Unknown,
    /// A word that is no known material.
    Strange,
}

/// The material that a word names: «glass», «PVC», «wooden box».
pub fn wall(text: &str) -> Told {
    let text = text.trim().to_lowercase();
    if UNKNOWN.contains(&text.as_str()) {
        return Told::Unknown;
    }
    let exact = WALLS.iter().find(|(word, _)| *word == text);
    // The longest word that stands in it: «solid pvc» before «pvc».
    let within = || WALLS.iter().filter(|(word, _)| text.contains(word)).max_by_key(|(word, _)| word.len());
    exact.or_else(within).map_or(Told::Strange, |(_, material)| Told::Is(*material))
}

/// The words for materials of walls.
pub fn wall_words() -> impl Iterator<Item = &'static str> {
    WALLS.iter().map(|(word, _)| *word)
}

/// Does a closed box of it breathe like a tub?
pub fn is_tub(material: Option<Material>) -> bool {
    matches!(material, Some(Material::Polypropylene))
}

/// What lies on the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Floor {
    /// Nothing.
    Bare,
    /// Paper, felt, carpet: thin and dry.
    Sheet,
    /// Loose and dry.
    Dry,
    /// Loose and moist.
    Moist,
}

/// What a word for a substrate says of it. What is not known is loose and dry.
pub fn floor(text: &str) -> Floor {
    let text = text.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
    if has(&["none", "bare", "nothing"]) {
        Floor::Bare
    } else if has(&["paper", "towel", "felt", "carpet", "mat", "tile", "lino", "vinyl"]) {
        Floor::Sheet
    } else if has(&["moist", "damp", "wet", "soil", "moss", "bioactive", "peat", "leaf"]) {
        Floor::Moist
    } else {
        Floor::Dry
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_material_is_known_by_the_words_of_keepers() {
        for (text, told) in [
            ("Glass", Told::Is(Material::Glass)),
            ("solid PVC", Told::Is(Material::SolidPvc)),
            ("PVC", Told::Is(Material::FoamedPvc)),
            ("wooden box", Told::Is(Material::Plywood)),
            ("plastic tub", Told::Is(Material::Polypropylene)),
            ("don't know", Told::Unknown),
            ("granite", Told::Strange),
        ] {
            assert_eq!(wall(text), told, "{text}");
        }
        for word in wall_words() {
            assert!(matches!(wall(word), Told::Is(_)), "{word}");
        }
    }

    #[test]
    fn a_substrate_is_bare_thin_dry_or_moist() {
        for (text, floor_of) in [
            ("paper towel", Floor::Sheet),
            ("aspen", Floor::Dry),
            ("damp coir", Floor::Moist),
            ("bare", Floor::Bare),
            ("something", Floor::Dry),
        ] {
            assert_eq!(floor(text), floor_of, "{text}");
        }
    }
}
