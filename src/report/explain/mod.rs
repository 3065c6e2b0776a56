//! `keys` and `explain`: what may be said in a build, and what a word means.

mod keys;
mod topics;

pub use keys::{keys_json, keys_text};
pub use topics::{Entry, EntryKind, explain, explain_text, topic_names};

/// Text is wrapped at this many columns.
const WIDTH: usize = 80;

/// A paragraph, each line behind an indent.
fn wrapped(text: &str, indent: usize) -> String {
    let blank = " ".repeat(indent);
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(&blank)
        .subsequent_indent(&blank);
    textwrap::fill(text, options) + "\n"
}
