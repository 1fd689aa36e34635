//! Why there is no fit.

use std::fmt;

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq)]
pub enum FitFault {
    /// Fewer rows than the parameters need; with unknown noise one more than parameters.
    TooFewRows {
        /// Rows and priors.
        rows: usize,
        /// The least that would do.
        needed: usize,
    },
    /// A start that is not a number, or not in its range; or an empty range. Counted from zero.
    Start(usize),
    /// A noise, a bend or the deviation of a prior that is not above zero.
    Settings,
    /// A prior weighs against the noise of the rows, so that must be known.
    PriorNeedsNoise,
    /// The model gives no number at any start.
    NotANumber,
    /// The search did not end at a minimum.
    DidNotConverge {
        /// How often the rows were evaluated.
        evaluations: usize,
        /// How far the next step would still go, in standard errors; NaN where that is unknown.
        offset: f64,
    },
    /// Rows and priors do not tell this parameter (counted from zero) from the others at all.
    Unidentifiable(usize),
}

impl fmt::Display for FitFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FitFault::TooFewRows { rows, needed } => write!(f, "{rows} values are too few: {needed} are needed"),
            FitFault::Start(at) => write!(f, "parameter {at} does not start within its range"),
            FitFault::Settings => write!(f, "noise, bend and deviations must be above zero"),
            FitFault::PriorNeedsNoise => write!(f, "with prior knowledge the noise of the values must be given"),
            FitFault::NotANumber => write!(f, "the model gives no number where the search begins"),
            FitFault::DidNotConverge { evaluations, .. } => {
                write!(f, "no best values were found in {evaluations} evaluations")
            }
            FitFault::Unidentifiable(at) => write!(f, "the values do not tell parameter {at} from the others"),
        }
    }
}

impl std::error::Error for FitFault {}
