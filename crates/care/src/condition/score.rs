//! The body score by eye: nine steps, five of them drawn.

use records::facts::Weighing;
use records::timeline::Entry;

use crate::lines;
use crate::view::View;

/// One of the five shapes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shape {
    /// Its score, of nine.
    pub score: u8,
    /// In a word.
    pub word: &'static str,
    /// What is seen in a cut through the middle of the body.
    pub section: &'static str,
    /// What is felt and seen elsewhere.
    pub elsewhere: &'static str,
}

/// The scale: the scores between two shapes lie between them. Its words follow the nine steps and the three shapes of the
/// back that rescues go by (rules `bcs_scale` and `bcs_shape`); its drawings are our own.
pub const SCALE: [Shape; 5] = [
    Shape {
        score: 1,
        word: "emaciated",
        section: "a sharp ridge, the sides fallen in",
        elsewhere: "Each bone of the back shows; the skin hangs in folds.",
    },
    Shape {
        score: 3,
        word: "thin",
        section: "a roof with straight sides, the spine its ridge",
        elsewhere: "The spine is felt along the whole back, the flanks are flat.",
    },
    Shape {
        score: 5,
        word: "ideal",
        section: "an upside-down U with a flat belly",
        elsewhere: "The spine is felt under a finger and does not stand out; the sides are full and firm.",
    },
    Shape {
        score: 7,
        word: "heavy",
        section: "broad and round, the spine sunk between two swells",
        elsewhere: "The spine is hard to feel; skin shows between the scales in a curve.",
    },
    Shape {
        score: 9,
        word: "obese",
        section: "two swells with a deep groove, the sides hang over the belly",
        elsewhere: "Rolls in every curve, hips before the tail, and a body that drags.",
    },
];

/// The last score by eye that still stands, with the weighing beside which it was noted.
pub fn last<'a>(view: &'a View<'_>) -> Option<(u8, &'a Entry<Weighing>)> {
    let stands = lines::low("body_score_stands").value;
    let scored = view.line.weighings.iter().rev().find_map(|one| one.body_score.map(|score| (score, one)));
    scored.filter(|(_, one)| view.days_since(one.at) <= stands)
}

/// A score in a word: that of the nearest shape.
pub fn word(score: u8) -> &'static str {
    let nearest = SCALE.iter().min_by_key(|shape| shape.score.abs_diff(score));
    nearest.map_or("", |shape| shape.word)
}
