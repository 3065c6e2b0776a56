//! Bytes of a file into text, for builds and maps alike.

use super::fault::{Note, Place};

/// UTF-8 text without byte-order mark, or what the file is instead. `file` is the name to report.
pub(super) fn decode(file: &str, bytes: &[u8]) -> Result<String, Note> {
    let at = |line| Place::Line(file.into(), line);
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        let text = "this is UTF-16 text: save it as UTF-8 (\"CSV UTF-8\" in a spreadsheet)";
        return Err(Note::new(at(1), "", text));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) if text.contains('\0') => {
            let before = text.split('\0').next().unwrap_or_default();
            let line = before.matches('\n').count() + 1;
            let text = "holds a zero byte: this is no text file; save it as UTF-8";
            Err(Note::new(at(line), "", text))
        }
        Ok(text) => Ok(text.to_owned()),
        Err(error) => {
            let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            let line = good.matches('\n').count() + 1;
            let byte = bytes[error.valid_up_to()];
            let text = format!("byte 0x{byte:02X} is not UTF-8 text: save the file as UTF-8");
            Err(Note::new(at(line), "", text))
        }
    }
}
