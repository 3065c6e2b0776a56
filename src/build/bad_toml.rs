//! Words for lines that are no TOML, from what people write most: text or a decimal comma without
//! quotes, a quote that is not closed, a key or section that stands twice.

/// Sections of which a build may have several, in double brackets.
const LISTS: [&str; 2] = ["air_path", "turbine"];

/// Whether the crate's message says that a key or section stands twice.
pub(super) fn is_twice(message: &str) -> bool {
    message.contains("duplicate key")
}

/// The key of a line that is no TOML, and what is wrong with it.
pub(super) fn words(line: &str, message: &str) -> (String, String) {
    let line = line.trim();
    if let Some(section) = line.strip_prefix('[') {
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
        "stands twice in its section: keep one of them".to_owned()
    } else if is_key {
        right_value(key, value).unwrap_or_else(|| format!("this is not TOML: {message}"))
    } else {
        format!("this is not TOML: {message}")
    };
    (if is_key { key } else { "" }.to_owned(), text)
}

fn section_twice(section: &str) -> String {
    if LISTS.contains(&section) {
        format!("stands several times: each in double brackets, [[{section}]]")
    } else {
        "this section stands twice: put the keys of both into one".to_owned()
    }
}

/// How the line was meant, where that can be told.
fn right_value(key: &str, value: &str) -> Option<String> {
    let bare = value.split('#').next().unwrap_or_default().trim();
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
    (!bare.is_empty() && !quoted).then(|| format!("text stands in quotes: {key} = \"{bare}\""))
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use crate::build::{Document, Note};

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
            ("a = 4.5 L", "t:1: a: text stands in quotes: a = \"4.5 L\""),
        ] {
            assert_eq!(said(line)[0], right);
        }
        let twice = said("a = 1\na = 2\n");
        assert_eq!(
            twice,
            ["t:2: a: stands twice in its section: keep one of them"]
        );
    }

    #[test]
    fn parts_in_single_brackets_get_one_fault_each_and_none_for_their_keys() {
        let text = "[air_path]\npart = 'a'\n[air_path]\npart = 'b'\n[site]\nx = 1\n[site]\nx = 2\n";
        assert_eq!(
            said(text),
            [
                "t:3: air_path: stands several times: each in double brackets, [[air_path]]",
                "t:7: site: this section stands twice: put the keys of both into one"
            ]
        );
    }
}
