//! Words for lines that are no TOML, from what people write most: text or a decimal comma without
//! quotes, a quote that is not closed, a key or section that stands twice, the quotes and dashes of a
//! word processor.

use super::typography;

/// Sections of which a build may have several, in double brackets.
const LISTS: [&str; 2] = ["air_path", "turbine"];

/// Whether the crate's message says that a key or section stands twice.
pub(super) fn is_twice(message: &str) -> bool {
    message.contains("duplicate key")
}

/// The key of a line that is no TOML, and what is wrong with it.
pub(super) fn words(line: &str, message: &str) -> (String, String) {
    let line = line.trim();
    // A row of a table begins with a bracket too, but has commas.
    let is_row = |rest: &&str| rest.split('#').next().unwrap_or_default().contains(',');
    let section = line.strip_prefix('[').filter(|rest| !is_row(rest));
    if let Some(section) = section {
        let section = section.trim_matches(['[', ']', ' ']).to_owned();
        let text = if is_twice(message) {
            section_twice(&section)
        } else {
            format!("this is not TOML: {message}")
        };
        return (section, text);
    }
    let (key, value) = line.split_once('=').unwrap_or_default();
    let (key, value) = (key.trim(), value.trim());
    let is_key = !key.is_empty() && !key.contains(char::is_whitespace);
    let text = if is_key && is_twice(message) {
        "is defined twice in its section: keep one of them".to_owned()
    } else if is_key {
        right_value(key, value).unwrap_or_else(|| format!("this is not TOML: {message}"))
    } else if let Some(cure) = typography::cure(line) {
        format!("{}: write {}", cure.what, cure.text)
    } else {
        format!("this is not TOML: {message}")
    };
    (if is_key { key } else { "" }.to_owned(), text)
}

fn section_twice(section: &str) -> String {
    if LISTS.contains(&section) {
        format!("appears more than once: put each in double brackets, [[{section}]]")
    } else {
        "this section appears twice: put the keys of both into one".to_owned()
    }
}

/// How the line was meant, where that can be told.
fn right_value(key: &str, value: &str) -> Option<String> {
    let bare = value.split('#').next().unwrap_or_default().trim();
    if let Some(cure) = typography::cure(bare)
        && toml::de::DeValue::parse(&cure.text).is_ok()
    {
        return Some(format!("{}: write {key} = {}", cure.what, cure.text));
    }
    if let Some((whole, decimals)) = bare.split_once(',')
        && is_digits(whole.trim_start_matches(['-', '+']))
        && is_digits(decimals)
    {
        return Some(format!(
            "has a comma in its number: write {key} = {whole}.{decimals} if it is a decimal"
        ));
    }
    if let Some(inside) = bare.strip_prefix('"')
        && !inside.is_empty()
        && !inside.contains('"')
    {
        return Some(format!(
            "a quote is missing at its end: {key} = \"{inside}\""
        ));
    }
    let quoted = bare.contains(['"', '\'', '[', ']', '{', '}', '=', ',']);
    (!bare.is_empty() && !quoted).then(|| format!("text needs quotes: {key} = \"{bare}\""))
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use crate::input::{Document, Note};

    fn said(text: &str) -> Vec<String> {
        let document = Document::from_text("t", text);
        document.faults.iter().map(Note::to_string).collect()
    }

    #[test]
    fn a_decimal_comma_an_open_quote_and_a_key_written_twice_say_what_would_be_right() {
        for (line, right) in [
            (
                "a = 9,5",
                "t:1: a: has a comma in its number: write a = 9.5 if it is a decimal",
            ),
            (
                "a = \"86 mm # long",
                "t:1: a: a quote is missing at its end: a = \"86 mm\"",
            ),
            ("a = 4.5 L", "t:1: a: text needs quotes: a = \"4.5 L\""),
        ] {
            assert_eq!(said(line)[0], right);
        }
        let twice = said("a = 1\na = 2\n");
        assert_eq!(
            twice,
            ["t:2: a: is defined twice in its section: keep one of them"]
        );
    }

    #[test]
    fn quotes_and_dashes_of_a_word_processor_get_one_fault_with_the_cure() {
        for (line, right) in [
            (
                "a = “4.5 L”",
                "t:1: a: has typographic quotes: write a = \"4.5 L\"",
            ),
            (
                "a = ‘4.5 L’  # of it",
                "t:1: a: has typographic quotes: write a = \"4.5 L\"",
            ),
            (
                "a = \"4.5 L”",
                "t:1: a: has typographic quotes: write a = \"4.5 L\"",
            ),
            (
                "a = [[1200, “0.86 +- 0.02”], [2400, 0.9]]",
                "t:1: a: has typographic quotes: write a = [[1200, \"0.86 +- 0.02\"], [2400, 0.9]]",
            ),
            (
                "a = −5.5",
                "t:1: a: has a typographic minus sign: write a = -5.5",
            ),
            ("a = ４.5", "t:1: a: has full-width letters: write a = 4.5"),
        ] {
            assert_eq!(said(&format!("{line}\nb = 1\n")), [right]);
        }
        let rows = said("a = [\n  [1200, “0.86”],\n  [2400, 0.9],\n]\nb = 1\n");
        assert!(
            rows[0].contains("t:2: line: has typographic quotes"),
            "{rows:?}"
        );
    }

    #[test]
    fn a_build_copied_with_blanks_that_do_not_break_is_read() {
        let text =
            "\u{feff}[engine]\u{a0}\na\u{a0}=\u{a0}\"4.5\u{a0}L\"\u{2003}# it\n\u{3000}b = 1\n";
        let document = Document::from_bytes("t", text.as_bytes());
        assert!(document.faults.is_empty(), "{:?}", document.faults);
        assert!(document.root.get("engine").is_some());
    }

    #[test]
    fn parts_in_single_brackets_get_one_fault_each_and_none_for_their_keys() {
        let text = "[air_path]\npart = 'a'\n[air_path]\npart = 'b'\n[site]\nx = 1\n[site]\nx = 2\n";
        assert_eq!(
            said(text),
            [
                "t:3: air_path: appears more than once: put each in double brackets, [[air_path]]",
                "t:7: site: this section appears twice: put the keys of both into one"
            ]
        );
    }
}
