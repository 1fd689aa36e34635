//! Zeros of a function of one number, and what counts as above zero.

/// Above zero, and neither infinite nor NaN.
pub(crate) fn is_above_zero(x: f64) -> bool {
    x.is_finite() && 0.0 < x
}

/// A zero of `f` between `low` and `high` by bisection with regula falsi steps (Illinois), to the last digits.
/// `None` where `f` has the same sign at both ends or is not a number there.
pub(crate) fn zero_between(mut f: impl FnMut(f64) -> f64, low: f64, high: f64) -> Option<f64> {
    const STEPS: usize = 200;
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if fa.is_nan() || fb.is_nan() || fa.signum() == fb.signum() {
        return None;
    }
    for step in 0..STEPS {
        let width = (b - a).abs();
        if width <= 4.0 * f64::EPSILON * a.abs().max(b.abs()) {
            break;
        }
        // Every third step halves: false position alone can creep.
        let secant = (a * fb - b * fa) / (fb - fa);
        let x = if step % 3 == 2 || !secant.is_finite() { 0.5 * (a + b) } else { secant };
        let fx = f(x);
        if fx == 0.0 {
            return Some(x);
        }
        if fx.signum() == fb.signum() {
            (b, fb) = (x, fx);
            fa *= 0.5;
        } else {
            (a, fa) = (b, fb);
            (b, fb) = (x, fx);
        }
    }
    Some(0.5 * (a + b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_zero_of_a_known_function_is_found() {
        for (low, high) in [(0.0, 10.0), (1.4, 1.5), (10.0, 0.0)] {
            let root = zero_between(|x| x * x - 2.0, low, high).unwrap();
            assert!((root - 2f64.sqrt()).abs() < 1e-14, "between {low} and {high}: {root}");
        }
        let flat = zero_between(|x| (x - 0.3).powi(9), 0.0, 1.0).unwrap();
        assert!((flat - 0.3).abs() < 1e-2, "{flat}");
    }

    #[test]
    fn without_a_change_of_sign_there_is_no_zero() {
        assert!(zero_between(|x| x * x + 1.0, -1.0, 1.0).is_none());
        assert!(zero_between(|_| f64::NAN, -1.0, 1.0).is_none());
    }
}
