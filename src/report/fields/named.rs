//! What has a name in the layout.

use crate::matching::StationState;

/// A stage, cooler or turbine with its name.
#[derive(Debug, Clone)]
pub struct Named<T> {
    /// Its name.
    pub name: String,
    /// Its state.
    pub state: T,
}

/// A station with its name.
#[derive(Debug, Clone)]
pub struct Station {
    /// Its name.
    pub name: String,
    /// Its state.
    pub state: StationState,
    /// Pressure of the air outside, Pa.
    pub ambient: f64,
}

/// Each state with its name.
pub fn named<'n, T: Copy>(names: impl Iterator<Item = &'n String>, states: &[T]) -> Vec<Named<T>> {
    let both = names.zip(states);
    both.map(|(name, state)| Named {
        name: name.clone(),
        state: *state,
    })
    .collect()
}
