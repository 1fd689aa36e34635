//! Curves through measured points: nonlinear least squares with bounds, priors and robust losses.
//!
//! Start with [`fit`]. The objective is
//!
//! ½ Σ (c/σ)² ρ((rᵢ/c)²) + ½ Σ ((pⱼ − μⱼ)/sⱼ)²
//!
//! with r the residuals, σ their noise, ρ a [`Loss`] with its bend at c, and a Gaussian prior (μ, s) on some of the
//! parameters. The search is that of Levenberg and Marquardt as MINPACK does it (Moré 1978, Lecture Notes in
//! Mathematics 630; from memory), which scales parameters by their columns of the Jacobian.
//!
//! What ends anywhere but at a minimum is a [`FitFault`], not an answer: after the search the next step is compared
//! with the standard errors (Bates and Watts 1981, Technometrics 23, 179, the relative offset; from memory).

mod fault;
mod fit;
mod loss;
mod parameter;
mod problem;
mod rows;
mod search;
mod triangle;
mod verdict;

pub use fault::FitFault;
pub use fit::{Fit, Noise, Settings, fit, fit_from, reach};
pub use loss::Loss;
pub use parameter::{Gaussian, Parameter, Range};
pub use rows::{Points, Rows, slopes_by_differences};
