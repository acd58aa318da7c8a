//! Numbers that a published formula can be asked with: plain ones, or such as carry their derivatives.

use num_dual::DualNum;

/// A plain number, or one that carries its derivatives along by the chain rule, so that a solver gets the
/// exact slope of a published formula without a second, hand-made one.
/// Unit: that of the formula. Range: that of the formula. Source: dual numbers, as in any text on automatic differentiation.
pub trait Number: DualNum<Primitive = f64> + Copy {}

impl<T: DualNum<Primitive = f64> + Copy> Number for T {}
