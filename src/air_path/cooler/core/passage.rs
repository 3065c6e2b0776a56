//! What lies between two plates of a core, or within a tube.

use super::fins::FinKind;

/// The layers of one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CorePassage {
    /// Clear height between the plates or within the tube, m.
    pub height: f64,
    /// Fins in it; a flat channel without.
    pub fin: Option<Fin>,
}

/// Fins between two plates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fin {
    /// From one fin to the next, m.
    pub pitch: f64,
    /// Thickness, m.
    pub thickness: f64,
    /// How they are made.
    pub kind: FinKind,
}
