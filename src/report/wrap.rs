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

/// Text with its long sentences wrapped: an item of a list goes on behind its indent, and a row of a
/// table, which has runs of blanks, is left alone.
pub(super) fn sentences_wrapped(text: &str) -> String {
    text.lines().map(sentence_wrapped).collect()
}

fn sentence_wrapped(line: &str) -> String {
    let sentence = line.trim_start();
    if line.chars().count() <= WIDTH || sentence.contains("  ") {
        return format!("{line}\n");
    }
    let first = line.len() - sentence.len();
    let others = if first > 0 { first + 2 } else { 0 };
    hanging(sentence, &" ".repeat(first), &" ".repeat(others))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_sentence_is_wrapped_and_a_row_of_a_table_is_not() {
        let row = format!("row  {}", "1234 ".repeat(30));
        let item = format!("  key: {}", "word ".repeat(30));
        let text = sentences_wrapped(&format!("short\n{row}\n{item}\n"));
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[..2], ["short", row.as_str()]);
        assert!(lines[2].starts_with("  key: word") && lines[2].len() <= WIDTH);
        assert!(lines[3].starts_with("    word"), "{text}");
    }
}
