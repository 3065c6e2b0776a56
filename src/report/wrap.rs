//! Paragraphs for reading.

/// Text is wrapped at this many columns.
pub(super) const WIDTH: usize = 80;

/// A paragraph, each line behind an indent.
pub(super) fn wrapped(text: &str, indent: usize) -> String {
    let blank = " ".repeat(indent);
    hanging(text, &blank, &blank)
}

/// A paragraph with something before its first line and something before the others.
pub(super) fn hanging(text: &str, first: &str, others: &str) -> String {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(first)
        .subsequent_indent(others)
        .break_words(false);
    textwrap::fill(text, options) + "\n"
}
