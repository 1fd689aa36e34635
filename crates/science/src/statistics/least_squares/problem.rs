//! Rows, priors, loss and bounds as one problem of plain squares.

use super::triangle::triangle;
use super::{Parameter, Rows, Settings};
use levenberg_marquardt::LeastSquaresProblem;
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

/// What a residual is where the model gives no number: so bad that the search turns back, and still to be squared.
const HOPELESS: f64 = 1e100;

/// The problem at the values tried last.
pub(super) struct Problem<'a, R> {
    rows: &'a R,
    parameters: &'a [Parameter],
    settings: &'a Settings,
    /// A typical size of each parameter: that of its start.
    pub(super) sizes: Vec<f64>,
    /// Unbounded.
    u: DVector<f64>,
    /// The same as parameters, and their derivatives in u.
    values: Vec<f64>,
    stretch: Vec<f64>,
    /// Derivatives, then residuals, column by column: of rows, then of priors.
    table: Vec<f64>,
    count: usize,
    /// The same turned into a triangle.
    residuals: DVector<f64>,
    jacobian: DMatrix<f64>,
    /// Did the model give numbers?
    pub(super) is_a_number: bool,
    pub(super) evaluations: usize,
    /// The lowest objective seen, and its parameters: not every end of the search is at its best point.
    best: (f64, Vec<f64>),
}

impl<'a, R: Rows> Problem<'a, R> {
    pub(super) fn new(
        rows: &'a R,
        parameters: &'a [Parameter],
        start: &[f64],
        settings: &'a Settings,
    ) -> Problem<'a, R> {
        let size = |value: &f64| if 1e-150 < value.abs() { value.abs() } else { 1.0 };
        let sizes: Vec<f64> = start.iter().map(size).collect();
        let outside = start.iter().zip(&sizes).zip(parameters).map(|((v, size), p)| p.range.outside(*v, *size));
        let u = DVector::from_iterator(start.len(), outside);
        let count = rows.count() + parameters.iter().filter(|p| p.prior.is_some()).count();
        let kept = count.min(start.len() + 1);
        let mut problem = Problem {
            rows,
            parameters,
            settings,
            sizes,
            values: start.to_vec(),
            stretch: vec![1.0; start.len()],
            table: vec![0.0; count * (start.len() + 1)],
            count: count.max(1),
            residuals: DVector::zeros(kept),
            jacobian: DMatrix::zeros(kept, start.len()),
            is_a_number: false,
            evaluations: 0,
            best: (f64::INFINITY, start.to_vec()),
            u,
        };
        problem.evaluate();
        problem
    }

    /// Half of the sum of squares.
    fn objective(&self) -> f64 {
        if self.is_a_number { 0.5 * self.residuals.norm_squared() } else { f64::INFINITY }
    }

    /// The best parameters seen.
    pub(super) fn best(&self) -> &[f64] {
        &self.best.1
    }

    fn evaluate(&mut self) {
        let Problem {
            rows, parameters, settings, sizes, u, values, stretch, table, count, residuals, jacobian, ..
        } = self;
        for (((u, size), parameter), (value, slope)) in
            u.iter().zip(sizes.iter()).zip(parameters.iter()).zip(values.iter_mut().zip(stretch.iter_mut()))
        {
            (*value, *slope) = parameter.range.inside(*u, *size);
        }
        let (count, width) = (*count, values.len());
        let inverse_noise = 1.0 / settings.noise.or_one();
        let mut is_a_number = true;
        let mut at = 0;
        rows.visit(values, |residual, slopes| {
            let (squared, by_residual) = settings.loss.squared(residual);
            let factor = by_residual * inverse_noise;
            if count <= at {
                return;
            }
            let ends = slopes.iter().zip(stretch.iter()).map(|(slope, stretch)| factor * slope * stretch);
            let mut sum = 0.0;
            let row = table.chunks_exact_mut(count).zip(ends.take(width).chain([squared * inverse_noise]));
            for (column, value) in row {
                if let Some(place) = column.get_mut(at) {
                    *place = value;
                }
                sum += value;
            }
            is_a_number &= sum.is_finite() && width <= slopes.len();
            at += 1;
        });
        let known = parameters.iter().enumerate().filter_map(|(j, p)| Some((j, p.prior?)));
        for ((j, prior), at) in known.zip(at..) {
            let (value, stretch) = (values.get(j).unwrap_or(&f64::NAN), stretch.get(j).unwrap_or(&f64::NAN));
            let off = (value - prior.mean) / prior.deviation;
            is_a_number &= off.is_finite();
            for (column, columns) in table.chunks_exact_mut(count).enumerate() {
                if let Some(place) = columns.get_mut(at) {
                    *place = match column {
                        _ if column == j => stretch / prior.deviation,
                        _ if column == width => off,
                        _ => 0.0,
                    };
                }
            }
        }
        is_a_number &= at == rows.count();
        if is_a_number {
            if width < count {
                triangle(table, count);
            }
            let is_turned = width < count;
            let columns = table.chunks_exact(count);
            for (j, (from, mut to)) in columns.clone().zip(jacobian.column_iter_mut()).enumerate() {
                for (i, (from, to)) in from.iter().zip(to.iter_mut()).enumerate() {
                    *to = if is_turned && j < i { 0.0 } else { *from };
                }
            }
            for (from, to) in columns.skip(width).flatten().zip(residuals.iter_mut()) {
                *to = *from;
            }
        }
        self.is_a_number = is_a_number;
        self.evaluations += 1;
        let objective = self.objective();
        if objective < self.best.0 {
            self.best.0 = objective;
            self.best.1.copy_from_slice(&self.values);
        }
    }
}

impl<R: Rows> LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_, R> {
    type ParameterStorage = Owned<f64, Dyn>;
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;

    fn set_params(&mut self, u: &DVector<f64>) {
        if self.u != *u {
            self.u.copy_from(u);
            self.evaluate();
        }
    }

    fn params(&self) -> DVector<f64> {
        self.u.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        Some(if self.is_a_number {
            self.residuals.clone()
        } else {
            DVector::from_element(self.residuals.len(), HOPELESS)
        })
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        self.is_a_number.then(|| self.jacobian.clone())
    }
}
