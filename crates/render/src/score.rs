//! The body score by eye: five cuts through the middle of a body, drawn by us, each with its words.
//!
//! Each drawing is an outline over a flat floor with the spine as a dot: thin animals have a ridge over it, heavy ones a
//! groove. Words stand beside the drawings as text of the page, so that a small screen has no small letters.

use care::condition::{SCALE, Shape};

use crate::svg::Svg;

/// Width of a drawing in px.
const WIDTH: f64 = 104.0;
/// Height of a drawing in px.
const HEIGHT: f64 = 84.0;

/// Outline of the body, and the height of its spine, for a score.
fn cut(score: u8) -> (&'static str, f64) {
    match score {
        1 => ("M26 72C40 66 46 44 48 24Q52 12 56 24C58 44 64 66 78 72Q52 77 26 72Z", 28.0),
        3 => ("M19 72L47 22Q52 15 57 22L85 72Q52 78 19 72Z", 30.0),
        5 => ("M23 72C13 34 34 15 52 15C70 15 91 34 81 72Q52 78 23 72Z", 28.0),
        7 => ("M17 72C3 38 25 14 43 17Q49 18 52 24Q55 18 61 17C79 14 101 38 87 72Q52 79 17 72Z", 38.0),
        _ => (
            "M13 70C-4 50 6 12 36 13Q47 14 52 32Q57 14 68 13C98 12 108 50 91 70Q82 81 68 75Q52 78 36 75Q22 81 13 70Z",
            47.0,
        ),
    }
}

/// One of the five as a drawing; `is_here` for the score that the animal was given.
pub fn drawing(shape: &Shape, is_here: bool) -> String {
    let says = format!("Score {}, {}: {}", shape.score, shape.word, shape.section);
    let mut svg = Svg::new(if is_here { "cut here" } else { "cut" }, WIDTH, HEIGHT, &says);
    let (outline, spine) = cut(shape.score);
    svg.line("cut-floor", (2.0, 79.0), (WIDTH - 2.0, 79.0), "");
    svg.path("cut-body", outline);
    svg.dot("cut-spine", WIDTH / 2.0, spine, 4.5, "");
    svg.finish()
}

/// The shape nearest to a score.
pub fn nearest(score: u8) -> Option<u8> {
    SCALE.iter().map(|shape| shape.score).min_by_key(|one| one.abs_diff(score))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shape_is_drawn_once_inside_its_box_and_says_what_it_shows() {
        let drawn: Vec<String> = SCALE.iter().map(|shape| drawing(shape, false)).collect();
        for (shape, svg) in SCALE.iter().zip(&drawn) {
            assert!(svg.contains(&format!("aria-label=\"Score {}, {}: ", shape.score, shape.word)), "{svg}");
            assert_eq!(drawn.iter().filter(|other| *other == svg).count(), 1);
            let (outline, spine) = cut(shape.score);
            let numbers = outline.split(|letter: char| !letter.is_ascii_digit() && letter != '-');
            for number in numbers.filter_map(|text| text.parse::<f64>().ok()) {
                assert!((-4.0..=108.0).contains(&number), "{outline}");
            }
            assert!((15.0..60.0).contains(&spine));
        }
        assert!(drawing(&SCALE[2], true).contains("class=\"cut here\""));
    }

    #[test]
    fn the_heavier_the_deeper_the_spine_lies() {
        let spines: Vec<f64> = [5, 7, 9].map(|score| cut(score).1).to_vec();
        assert!(spines.windows(2).all(|pair| pair[0] < pair[1]));
    }

    #[test]
    fn a_score_between_two_shapes_is_near_one_of_them() {
        assert_eq!((nearest(1), nearest(5), nearest(8)), (Some(1), Some(5), Some(7)));
    }
}
