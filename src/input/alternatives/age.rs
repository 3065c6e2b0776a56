//! Of two keys that say one thing, the one that was said later counts.

use super::super::document::{Node, Value};
use super::super::fault::Place;

/// When something was said: in the file, or by which option.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Age {
    File,
    Option(usize),
}

impl Age {
    /// Of a node with all that is in it.
    pub fn of(node: &Node) -> Self {
        let own = match &node.place {
            Place::File(_) | Place::Line(..) => Self::File,
            Place::Set(number, _) | Place::Beside(number, _) => Self::Option(*number),
        };
        match &node.value {
            Value::Table(table) => (table.entries())
                .filter(|(_, inner)| inner.value != Value::Removed)
                .map(|(_, inner)| Self::of(inner))
                .fold(own, Self::max),
            _ => own,
        }
    }
}
