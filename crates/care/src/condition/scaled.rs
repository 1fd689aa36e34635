//! The scaled mass index: mass for length against a sample of the species.

use science::statistics::summary::moments;

use crate::answer::SourceRef;
use crate::lines;
use crate::view::View;

/// Animals of one species that were weighed and measured alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    /// How many.
    pub animals: usize,
    /// b: how fast mass rises with length.
    pub exponent: f64,
    /// L0: their mean total length, in cm.
    pub length_cm: f64,
    /// Index of the middle one, in g.
    pub middle_g: f64,
    /// Nine of ten lie between, in g.
    pub between_g: (f64, f64),
    /// Total lengths for which it holds, in cm.
    pub holds_cm: (f64, f64),
    /// Are they the household's own?
    pub is_of_the_house: bool,
    /// Where it comes from.
    pub source: SourceRef,
}

/// An animal against a sample.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScaledMass {
    /// What it would weigh at the mean length of the sample, in g.
    pub index_g: f64,
    /// Its total length, in cm.
    pub length_cm: f64,
    /// Its mass, in g.
    pub mass_g: f64,
}

impl Sample {
    /// From masses in g and total lengths in cm (Peig and Green 2009, Oikos 118:1883): b = sd(ln m) / sd(ln L), the
    /// slope of the standardised major axis. `None` with fewer than twenty, or where all are of one length.
    pub fn of(bodies: &[(f64, f64)]) -> Option<Sample> {
        let animals = bodies.len();
        if (animals as f64) < lines::low("scaled_mass_animals").value {
            return None;
        }
        let masses = moments(&bodies.iter().map(|(mass, _)| mass.ln()).collect::<Vec<_>>())?;
        let lengths = moments(&bodies.iter().map(|(_, length)| length.ln()).collect::<Vec<_>>())?;
        if lengths.deviation <= 0.0 {
            return None;
        }
        let exponent = masses.deviation / lengths.deviation;
        let length_cm = bodies.iter().map(|(_, length)| length).sum::<f64>() / animals as f64;
        let mut index: Vec<f64> =
            bodies.iter().map(|(mass, length)| mass * (length_cm / length).powf(exponent)).collect();
        index.sort_by(f64::total_cmp);
        let at = |share: f64| index.get((share * (animals - 1) as f64).round() as usize).copied();
        let ends = |pick: fn(f64, f64) -> f64, start: f64| bodies.iter().map(|(_, length)| *length).fold(start, pick);
        Some(Sample {
            animals,
            exponent,
            length_cm,
            middle_g: at(0.5)?,
            between_g: (at(0.05)?, at(0.95)?),
            holds_cm: (ends(f64::min, f64::INFINITY), ends(f64::max, 0.0)),
            is_of_the_house: true,
            source: SourceRef { key: "household".into(), status: species::Status::Household },
        })
    }

    /// The published one of a species; there are few.
    pub fn published(species: &str) -> Option<Sample> {
        let group = lines::rule("scaled_mass")?.group(species)?;
        let figure = group.figure.as_ref()?;
        let number = |name: &str| group.numbers.get(name).copied();
        Some(Sample {
            animals: number("animals")? as usize,
            exponent: number("exponent")?,
            length_cm: number("length_cm")?,
            middle_g: figure.middle(),
            between_g: (figure.low, figure.high),
            holds_cm: (number("shortest_cm")?, number("longest_cm")?),
            is_of_the_house: false,
            source: SourceRef::of(figure),
        })
    }

    /// m x (L0 / L)^b; `None` outside of the lengths for which the sample holds.
    pub fn index(&self, mass_g: f64, length_cm: f64) -> Option<ScaledMass> {
        let (shortest, longest) = self.holds_cm;
        let index_g = mass_g * (self.length_cm / length_cm).powf(self.exponent);
        (shortest..=longest).contains(&length_cm).then_some(ScaledMass { index_g, length_cm, mass_g })
    }

    /// How far outside of nine in ten, beyond what the tape may be off: negative for thin, positive for heavy, zero in
    /// between, as a share.
    pub fn outside(&self, scaled: &ScaledMass) -> f64 {
        let tape = lines::low("scaled_mass_tape").value / 100.0;
        let (low, high) = (self.between_g.0 * (1.0 - tape), self.between_g.1 * (1.0 + tape));
        if scaled.index_g < low {
            scaled.index_g / low - 1.0
        } else if high < scaled.index_g {
            scaled.index_g / high - 1.0
        } else {
            0.0
        }
    }
}

/// Its last total length with the mass that belongs to it: (mass g, length cm, places of weighing and measurement).
pub fn body(view: &View<'_>) -> Option<(f64, f64, usize, usize)> {
    let together = lines::low("length_and_mass_together").value;
    let place = view.line.measurements.iter().rposition(|one| one.total_length_cm.is_some())?;
    let measured = view.line.measurements.get(place)?;
    let near = |at: units::Moment| at.days_since(measured.at.from).abs();
    let weighed = view
        .masses
        .list
        .iter()
        .filter(|one| one.empty_g.is_some() && near(one.at) <= together)
        .min_by(|a, b| near(a.at).total_cmp(&near(b.at)))?;
    Some((weighed.empty_g?, measured.total_length_cm?, weighed.index, place))
}
