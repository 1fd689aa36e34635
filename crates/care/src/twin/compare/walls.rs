//! The usual walls for the same box.

use science::physics::materials::Material;

use super::figures::{Asked, Candidate, Figures};
use super::ranged;
use crate::lines;
use crate::twin::{Description, Guesses};
use crate::what_if::{Cell, Range, Reckoning, Table, Unit};

/// Walls that are sold or built, in words that the description knows.
const WALLS: [(&str, Material); 7] = [
    ("glass", Material::Glass),
    ("acrylic", Material::Acrylic),
    ("foamed PVC", Material::FoamedPvc),
    ("plastic tub", Material::Polypropylene),
    ("plywood", Material::Plywood),
    ("melamine board", Material::Chipboard),
    ("polystyrene foam", Material::Polystyrene),
];

/// So few sets are enough to rank them.
const SETS: usize = 9;

/// The first enclosure in other walls, each of its usual thickness.
pub(super) fn walls(answer: &mut Reckoning, one: &Description, asked: &Asked) {
    let rows = WALLS.into_iter().filter_map(|(words, material)| row(one, asked, words, material));
    let watts = format!("power for {:.0} °C on the warm surface", asked.target_c);
    let hours = format!("until it is under {:.0} °C in a power cut", asked.cut.value);
    let columns = [
        ("walls", "walls"),
        ("thickness", "usual thickness"),
        ("watts", &watts),
        ("cool-air", "air of the cool side"),
        ("cut-hours", &hours),
        ("humidity", "humidity of the cool air"),
    ];
    answer.tables.push(Table::new(
        "walls",
        "the first box in other walls, heater and room the same",
        columns,
        rows.collect(),
    ));
    answer.sources.push(lines::source("twin_thickness"));
}

fn row(one: &Description, asked: &Asked, words: &str, material: Material) -> Option<Vec<Cell>> {
    let mut described = one.clone();
    described.enclosure.material = Some(words.to_owned());
    described.enclosure.thickness_mm = None;
    let candidate = Candidate::of(&described);
    let sets = Guesses::of(candidate.described()).sets(SETS);
    let figures: Vec<Figures> = sets.iter().filter_map(|set| candidate.figures(asked, set).ok()).collect();
    let cell = |of: fn(&Figures) -> f64, unit: Unit| {
        ranged(figures.iter().map(of)).map_or(Cell::Nothing, |range| Cell::Is(range, unit))
    };
    let thick = lines::whole_of_group("twin_thickness", material.key())?;
    Some(vec![
        Cell::Says(words.to_owned()),
        Cell::Is(Range::exactly(thick.middle()), Unit::Millimetres),
        cell(|one| one.watts, Unit::Watts),
        cell(|one| one.cool_c, Unit::Celsius),
        cell(|one| one.hours, Unit::Hours),
        cell(|one| one.pct, Unit::Humidity),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::material::{Told, wall};

    #[test]
    fn each_word_is_that_material() {
        for (words, material) in WALLS {
            assert_eq!(wall(words), Told::Is(material), "{words}");
        }
    }
}
