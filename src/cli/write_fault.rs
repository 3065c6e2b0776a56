//! Why a file, a folder or standard output cannot be written, in words.

use std::io::{self, ErrorKind};
use std::path::Path;

use super::failure::Failure;

/// A file that cannot be written, and why.
pub(super) fn cannot_be_written(path: &Path, fault: &io::Error) -> Failure {
    let why = why(fault);
    Failure::new(format!("{}: cannot be written: {why}", path.display()))
}

/// Why a file or folder cannot be written, in words.
pub(super) fn why(fault: &io::Error) -> String {
    let words = match fault.kind() {
        ErrorKind::PermissionDenied => "no permission to write there",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your disk quota is used up",
        ErrorKind::IsADirectory => "a folder has that name",
        ErrorKind::NotADirectory | ErrorKind::AlreadyExists => "a file has that folder's name",
        ErrorKind::NotFound => "its folder does not exist",
        ErrorKind::InvalidFilename => "the name is too long",
        _ => return fault.to_string(),
    };
    words.to_owned()
}
