//! The one way out: everything that the tool shows passes here, and nothing of a file's text can
//! steer the terminal it lands on.

use std::borrow::Cow;
use std::io::Write;
use std::process::ExitCode;

use super::options::Format;
use super::write_fault::why;

/// Most faults or remarks of one kind that are said.
const MOST_SAID: usize = 50;
/// Longest line that is said whole, characters.
const LONGEST: usize = 2000;
/// What stays of a longer one at its start and end.
const KEPT: (usize, usize) = (600, 300);

/// Prints the result. A reader that has gone away is no failure.
pub(super) fn print(text: &str, format: Format, code: u8) -> ExitCode {
    let text = match format {
        Format::Text | Format::Csv => harmless(text),
        Format::Json => harmless_json(text),
    };
    write_out(&text, code)
}

/// Prints text that holds nothing of the user's.
pub(super) fn write_out(text: &str, code: u8) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::from(code),
        Err(fault) if fault.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::from(code),
        Err(fault) => {
            say(&format!(
                "standard output: cannot be written: {}",
                why(&fault)
            ));
            ExitCode::from(1)
        }
    }
}

/// Columns of the reader's terminal; 80 where the result goes elsewhere.
pub(super) fn width() -> usize {
    const PIPED: usize = 80;
    let terminal = console::Term::stdout();
    let size = terminal.is_term().then(|| terminal.size_checked());
    size.flatten()
        .map_or(PIPED, |(_, columns)| usize::from(columns))
}

/// One line on standard error. Nothing can be done where even that is closed.
pub(super) fn say(line: &str) {
    let _ = writeln!(std::io::stderr(), "{}", said(line));
}

/// The first of many lines on standard error, and how many more there are of what they are.
pub(super) fn say_first<T: ToString>(lines: &[T], what: &str) {
    for line in lines.iter().take(MOST_SAID) {
        say(&line.to_string());
    }
    if let Some(more) = lines.len().checked_sub(MOST_SAID + 1) {
        say(&format!("and {} more {what}", more + 1));
    }
}

/// A line as it is said: one line, of bearable length.
fn said(line: &str) -> String {
    let line = harmless(line).replace('\n', "\\n");
    let count = line.chars().count();
    if count <= LONGEST {
        return line;
    }
    let (start, end) = KEPT;
    let head: String = line.chars().take(start).collect();
    let tail: String = line.chars().skip(count - end).collect();
    format!("{head} … {} characters … {tail}", count - start - end)
}

/// Text in which no letter steers a terminal or turns the direction of writing, and which XML may
/// hold: such letters stand as escapes, line breaks stay.
pub(super) fn harmless(text: &str) -> Cow<'_, str> {
    escaped(text, |letter, out| match letter {
        '\t' | '\r' => out.extend(letter.escape_default()),
        _ => out.extend(letter.escape_unicode()),
    })
}

/// The same of JSON text, where such letters stand within quotes only: it says the same as before.
fn harmless_json(text: &str) -> Cow<'_, str> {
    escaped(text, |letter, out| {
        for unit in letter.encode_utf16(&mut [0; 2]) {
            out.push_str(&format!("\\u{unit:04x}"));
        }
    })
}

fn escaped(text: &str, escape: impl Fn(char, &mut String)) -> Cow<'_, str> {
    if !text.contains(is_steering) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for letter in text.chars() {
        if is_steering(letter) {
            escape(letter, &mut out);
        } else {
            out.push(letter);
        }
    }
    Cow::Owned(out)
}

/// Controls but the line break, marks of direction, breaks of line and paragraph, invisible tags,
/// and what is no character at all.
fn is_steering(letter: char) -> bool {
    match letter {
        '\n' => false,
        '\u{61c}'
        | '\u{200e}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2066}'..='\u{2069}'
        | '\u{feff}'
        | '\u{fff9}'..='\u{fffb}'
        | '\u{fffe}'..='\u{ffff}'
        | '\u{e0000}'..='\u{e007f}' => true,
        _ => letter.is_control(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_stands_as_an_escape() {
        for (text, shown) in [
            ("a\u{1b}[2Jb", "a\\u{1b}[2Jb"),
            ("a\rb\tc", "a\\rb\\tc"),
            ("a\u{8}\u{7f}", "a\\u{8}\\u{7f}"),
            ("a\u{9b}31m", "a\\u{9b}31m"),
            ("\u{202e}lmot\u{2066}", "\\u{202e}lmot\\u{2066}"),
            ("\u{feff}\u{ffff}\u{e0041}", "\\u{feff}\\u{ffff}\\u{e0041}"),
        ] {
            assert_eq!(harmless(text), shown);
        }
    }

    #[test]
    fn letters_of_any_language_and_line_breaks_stay() {
        let text = "Ölkühler η · 冷却器 · مبرد\n20 °C → 80 °C";
        assert!(matches!(harmless(text), Cow::Borrowed(same) if same == text));
    }

    #[test]
    fn json_says_the_same_as_before() {
        let title = "a\u{9b}31m\u{202e}\u{e0041}\u{7f}é";
        let json = serde_json::to_string(title).unwrap();
        let shown = harmless_json(&json);
        assert!(!shown.contains(is_steering), "{shown}");
        assert_eq!(serde_json::from_str::<String>(&shown).unwrap(), title);
    }

    #[test]
    fn a_line_stays_one_line_of_bearable_length() {
        assert_eq!(said("a: b\nwrote c"), "a: b\\nwrote c");
        let long = format!("build.toml:3: {}: is unknown", "x".repeat(100_000));
        let said = said(&long);
        assert!(said.chars().count() < LONGEST, "{said}");
        assert!(said.starts_with("build.toml:3: xx") && said.ends_with("xx: is unknown"));
        assert!(said.contains(" … 99126 characters … "), "{said}");
    }
}
