//! `keys` and `explain`: what may be said in a build, and what a word means.

mod keys;
mod topics;
mod word;

pub use keys::{keys_json, keys_text};
pub use topics::topic_names;
pub use word::{Entry, EntryKind, explain, explain_text};
