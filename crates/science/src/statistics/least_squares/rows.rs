//! What is to be made small.

/// Measured rows and the model for them.
pub trait Rows {
    /// How many there are.
    fn count(&self) -> usize;

    /// Calls `each` for every row in order, with model − measured and its derivative in each parameter.
    ///
    /// One pass, so that a model can prepare what its rows share. Where the model is not defined, NaN: the search
    /// then turns back.
    fn visit(&self, parameters: &[f64], each: impl FnMut(f64, &[f64]));
}

/// Points (x, y) and a curve for them, a closure that gives the value at x and writes the derivatives in the
/// parameters.
#[derive(Clone, Copy, Debug)]
pub struct Points<'a, C> {
    /// Where was measured.
    pub x: &'a [f64],
    /// What was measured; what is beyond the shorter of the two is not seen.
    pub y: &'a [f64],
    /// Value at x for parameters; derivatives go into the last argument.
    pub curve: C,
}

impl<C: Fn(f64, &[f64], &mut [f64]) -> f64> Rows for Points<'_, C> {
    fn count(&self) -> usize {
        self.x.len().min(self.y.len())
    }

    fn visit(&self, parameters: &[f64], mut each: impl FnMut(f64, &[f64])) {
        let mut slopes = vec![0.0; parameters.len()];
        for (x, y) in self.x.iter().zip(self.y) {
            let value = (self.curve)(*x, parameters, &mut slopes);
            each(value - y, &slopes);
        }
    }
}

/// Derivatives of a function where no closed form is at hand, by central differences with a step of 6e-6 of each
/// parameter (the cube root of the machine precision). About ten digits are right; a closed form is better and faster.
pub fn slopes_by_differences(f: impl Fn(&[f64]) -> f64, parameters: &[f64], slopes: &mut [f64]) {
    const SHARE: f64 = 6e-6;
    let mut moved = parameters.to_vec();
    for ((at, middle), slope) in parameters.iter().enumerate().zip(slopes) {
        let step = SHARE * middle.abs().max(f64::MIN_POSITIVE.sqrt());
        let mut value = |by: f64| {
            if let Some(parameter) = moved.get_mut(at) {
                *parameter = middle + by;
            }
            f(&moved)
        };
        let (up, down) = (value(step), value(-step));
        value(0.0);
        *slope = (up - down) / (2.0 * step);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn differences_give_ten_digits_of_a_known_derivative() {
        let f = |p: &[f64]| p[0].sin() * p[1].exp() + p[2];
        let at = [0.7, 1.3, 40.0];
        let mut slopes = [0.0; 3];
        slopes_by_differences(f, &at, &mut slopes);
        let exact = [0.7f64.cos() * 1.3f64.exp(), 0.7f64.sin() * 1.3f64.exp(), 1.0];
        for (got, wanted) in slopes.into_iter().zip(exact) {
            assert!((got / wanted - 1.0).abs() < 1e-9, "{got} and {wanted}");
        }
    }
}
