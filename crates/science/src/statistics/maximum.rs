//! The maximum of a smooth function of two numbers, by Newton steps with five-point differences.

/// Where it is, and how the function bends there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Maximum {
    pub(crate) at: [f64; 2],
    pub(crate) value: f64,
}

/// Step of the differences, for arguments of order one: logarithms.
const STEP: f64 = 1e-3;

/// Climbs from a start; `None` where it does not end at a maximum.
pub(crate) fn maximum(f: impl Fn(f64, f64) -> f64, start: [f64; 2]) -> Option<Maximum> {
    const STEPS: usize = 200;
    let [mut x, mut y] = start;
    let mut value = f(x, y);
    if !value.is_finite() {
        return None;
    }
    for _ in 0..STEPS {
        let line = |dx: f64, dy: f64| [-2.0, -1.0, 1.0, 2.0].map(|k| f(x + k * dx, y + k * dy));
        let first = |[a, b, c, d]: [f64; 4]| (8.0 * (c - b) - (d - a)) / (12.0 * STEP);
        let second = |[a, b, c, d]: [f64; 4]| (16.0 * (b + c) - (a + d) - 30.0 * value) / (12.0 * STEP * STEP);
        let (along_x, along_y, across) = (line(STEP, 0.0), line(0.0, STEP), line(STEP, STEP));
        let (gx, gy) = (first(along_x), first(along_y));
        let (hxx, hyy) = (second(along_x), second(along_y));
        let hxy = 0.5 * (second(across) - hxx - hyy);
        // The steepest way where the function does not bend downwards everywhere.
        let determinant = hxx * hyy - hxy * hxy;
        let is_concave = hxx < 0.0 && 0.0 < determinant;
        let (dx, dy) = if is_concave {
            (-(hyy * gx - hxy * gy) / determinant, -(hxx * gy - hxy * gx) / determinant)
        } else {
            let length = gx.hypot(gy).max(f64::MIN_POSITIVE);
            (0.5 * gx / length, 0.5 * gy / length)
        };
        let longest = dx.abs().max(dy.abs());
        if !longest.is_finite() {
            return None;
        }
        if is_concave && longest < 1e-9 {
            return Some(Maximum { at: [x, y], value });
        }
        let mut share = (1.0 / longest).min(1.0);
        loop {
            let (nx, ny) = (x + share * dx, y + share * dy);
            let next = f(nx, ny);
            // The last digits may be lost to rounding.
            if next.is_finite() && value - 1e-13 * value.abs() <= next {
                (x, y, value) = (nx, ny, next);
                break;
            }
            share *= 0.5;
            if share * longest < 1e-9 {
                return is_concave.then_some(Maximum { at: [x, y], value });
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_top_of_a_bent_ridge_is_found() {
        // Rosenbrock 1960, The Computer Journal 3, 175, upside down, with a valley less narrow.
        let found = maximum(|x, y| -(1.0 - x).powi(2) - 5.0 * (y - x * x).powi(2), [-1.0, 1.5]).unwrap();
        assert!((found.at[0] - 1.0).abs() < 1e-7 && (found.at[1] - 1.0).abs() < 1e-7, "{found:?}");
        assert!(found.value.abs() < 1e-12);
    }

    #[test]
    fn where_there_is_no_top_none_is_found() {
        assert!(maximum(|x, y| x + y, [0.0, 0.0]).is_none());
        assert!(maximum(|_, _| f64::NAN, [0.0, 0.0]).is_none());
    }
}
