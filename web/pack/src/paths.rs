//! Where things stand in the checkout.

use std::path::{Path, PathBuf};

/// The top of the checkout.
pub(crate) fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// What the build makes.
pub(crate) fn dist() -> PathBuf {
    top().join("dist")
}

/// The page's modules, each in its own file: what is checked and tested.
pub(crate) fn modules() -> PathBuf {
    top().join("target/modules")
}

/// The page as written by hand.
pub(crate) fn www() -> PathBuf {
    top().join("www")
}
