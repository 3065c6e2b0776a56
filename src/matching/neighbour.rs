//! Where a match stood, to start neighbouring ones from.

use super::variables::Trial;
use crate::numeric::newton::InverseJacobian;

/// Where a neighbouring match stood, to start the next from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neighbour {
    pub(super) trial: Trial,
    pub(super) inverse: InverseJacobian,
}
