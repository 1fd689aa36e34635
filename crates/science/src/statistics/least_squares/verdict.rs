//! Is this a minimum, and how surely are its parameters known?

use super::{FitFault, Noise, Parameter, Rows, Settings};
use nalgebra::{DMatrix, DVector};

/// The problem made linear around some parameters, with the weights that the loss gives there.
pub(super) struct Linear {
    /// Which parameters are not held by an end of their range.
    pub(super) free: Vec<usize>,
    /// Inverse of JᵀWJ/σ² and priors, of the free ones.
    pub(super) inverse: DMatrix<f64>,
    /// The step of the free ones to the minimum of the linear problem.
    pub(super) step: DVector<f64>,
    /// ½ of the sum of all costs.
    pub(super) objective: f64,
    /// Standard deviation of the weighted residuals.
    pub(super) spread: f64,
    /// Rows less free parameters.
    pub(super) freedom: usize,
    pub(super) residuals: Vec<f64>,
    pub(super) weights: Vec<f64>,
    /// The model gives no number here.
    pub(super) is_broken: bool,
    /// A parameter at an end of its range that would rather go inwards.
    pub(super) is_stuck: bool,
}

/// Smaller than this against its own length, a column says nothing that those before it do not.
const DEPENDENT: f64 = 1e-12;

impl Linear {
    pub(super) fn around<R: Rows>(
        rows: &R,
        parameters: &[Parameter],
        values: &[f64],
        sizes: &[f64],
        settings: &Settings,
    ) -> Result<Linear, FitFault> {
        let count = rows.count();
        let known = parameters.iter().filter(|p| p.prior.is_some()).count();
        let (total, width) = (count + known, parameters.len());
        let inverse_noise = 1.0 / settings.noise.or_one();
        let mut all = DMatrix::<f64>::zeros(total, width);
        let mut right = DVector::<f64>::zeros(total);
        let (mut residuals, mut weights) = (Vec::with_capacity(count), Vec::with_capacity(count));
        let (mut objective, mut squares) = (0.0, 0.0);
        rows.visit(values, |residual, slopes| {
            let at = residuals.len();
            if count <= at {
                return;
            }
            let weight = settings.loss.weight(residual);
            let factor = weight.sqrt() * inverse_noise;
            for (column, slope) in all.as_mut_slice().chunks_exact_mut(total).zip(slopes) {
                if let Some(place) = column.get_mut(at) {
                    *place = factor * slope;
                }
            }
            right[at] = factor * residual;
            objective += 0.5 * settings.loss.cost(residual) * inverse_noise * inverse_noise;
            squares += weight * residual * residual;
            residuals.push(residual);
            weights.push(weight);
        });
        let mut at = count;
        for (j, (parameter, value)) in parameters.iter().zip(values).enumerate() {
            if let Some(prior) = parameter.prior {
                let off = (value - prior.mean) / prior.deviation;
                all[(at, j)] = 1.0 / prior.deviation;
                right[at] = off;
                objective += 0.5 * off * off;
                at += 1;
            }
        }
        let is_broken = residuals.len() != count || !objective.is_finite() || all.iter().any(|v| !v.is_finite());
        let mut linear = Linear {
            free: Vec::with_capacity(width),
            inverse: DMatrix::zeros(0, 0),
            step: DVector::zeros(0),
            objective,
            spread: f64::NAN,
            freedom: 0,
            residuals,
            weights,
            is_broken,
            is_stuck: false,
        };
        if is_broken {
            return Ok(linear);
        }
        for (j, ((parameter, value), size)) in parameters.iter().zip(values).zip(sizes).enumerate() {
            match parameter.range.end_at(*value, *size) {
                None => linear.free.push(j),
                Some((_, inwards)) => {
                    let column = all.column(j);
                    let gradient = inwards * column.dot(&right);
                    linear.is_stuck |= gradient < -1e-6 * column.norm() * right.norm();
                }
            }
        }
        linear.freedom = count.saturating_sub(linear.free.len());
        linear.spread = (squares / linear.freedom.max(1) as f64).sqrt();
        linear.solve(&all, right)?;
        Ok(linear)
    }

    /// By QR of the columns, each brought to length one.
    fn solve(&mut self, all: &DMatrix<f64>, mut right: DVector<f64>) -> Result<(), FitFault> {
        let width = self.free.len();
        if width == 0 {
            return Ok(());
        }
        if all.nrows() < width {
            return Err(FitFault::TooFewRows { rows: all.nrows(), needed: width });
        }
        let mut columns = all.select_columns(&self.free);
        let lengths: Vec<f64> = columns.column_iter().map(|c| c.norm()).collect();
        for ((mut column, length), j) in columns.column_iter_mut().zip(&lengths).zip(&self.free) {
            if *length <= 0.0 {
                return Err(FitFault::Unidentifiable(*j));
            }
            column /= *length;
        }
        let qr = columns.qr();
        let r = qr.r();
        if let Some((_, j)) = r.diagonal().iter().zip(&self.free).find(|(d, _)| d.abs() <= DEPENDENT) {
            return Err(FitFault::Unidentifiable(*j));
        }
        qr.q_tr_mul(&mut right);
        let projected = right.rows(0, width).into_owned();
        let fault = || FitFault::Unidentifiable(self.free.first().copied().unwrap_or(0));
        let mut step = r.solve_upper_triangular(&projected).ok_or_else(fault)?;
        let mut root = r.solve_upper_triangular(&DMatrix::identity(width, width)).ok_or_else(fault)?;
        for ((value, mut row), length) in step.iter_mut().zip(root.row_iter_mut()).zip(&lengths) {
            *value /= -length;
            row /= *length;
        }
        self.inverse = &root * root.transpose();
        self.step = step;
        Ok(())
    }

    /// Standard deviation of a residual of weight one, in the unit of the objective.
    pub(super) fn unit(&self, noise: Noise) -> f64 {
        match noise {
            Noise::Known(_) => 1.0,
            Noise::Estimated => self.spread,
        }
    }

    /// The longest part of the step in standard errors, leaving out parts that the digits of a number do not hold.
    pub(super) fn offset(&self, values: &[f64], sizes: &[f64], noise: Noise) -> f64 {
        const DIGITS: f64 = 1e-9;
        let unit = self.unit(noise);
        let mut worst = 0.0f64;
        for ((step, variance), j) in self.step.iter().zip(self.inverse.diagonal().iter()).zip(&self.free) {
            let (value, size) = (values.get(*j).copied().unwrap_or(0.0), sizes.get(*j).copied().unwrap_or(1.0));
            if DIGITS * value.abs().max(DIGITS * size) < step.abs() {
                worst = worst.max(step.abs() / (unit * variance.sqrt()));
            }
            if step.is_nan() {
                return f64::NAN;
            }
        }
        worst
    }
}
