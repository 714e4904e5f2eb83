//! What a start does not wait for: HTML and styles of the screens that are not
//! shown first, in a file of their own that is asked for when one is wanted.

use crate::files::{Files, integrity, text};
use crate::page::{self, PAGE};
use anyhow::{Result, ensure};
use sha2::{Digest as _, Sha256};

/// The screen that a start shows.
const NOW: &str = "now";
const BEGINS: &str = "<section class=\"screen\" id=\"";
const ENDS: &str = "</section>";
/// Where the page says which file it is.
const PLACE: &str = "<main>";

/// The page without the other screens, and those.
pub(crate) struct Apart {
    /// The page; where a screen belongs stands its empty section.
    pub(crate) page: String,
    /// Styles before those of the other screens.
    pub(crate) before: String,
    /// Styles of the other screens, which stand between.
    pub(crate) between: String,
    /// Styles behind them, which have the last word.
    pub(crate) behind: String,
    /// What the file of the other screens is called.
    pub(crate) name: String,
    /// The file: a page of nothing but those screens and their styles.
    pub(crate) screens: String,
}

/// Takes the other screens out of the page, which names its build.
pub(crate) fn apart(modules: &Files, build: &str) -> Result<Apart> {
    let [before, between, behind] = styles(modules)?;
    let mut page = String::new();
    // Whoever opens it by itself gets a page that may do nothing.
    let mut screens = format!(
        "<!doctype html>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src '{}'; base-uri 'none'; form-action 'none'\">\n\
         <title>Glasscall</title>\n<style>{between}</style>\n",
        integrity(between.as_bytes())
    );
    let mut out = false;
    for line in text(modules, PAGE)?.lines() {
        let begins = line.starts_with(BEGINS) && !line.starts_with(&format!("{BEGINS}{NOW}\""));
        if begins {
            page.push_str(line);
            out = true;
        }
        let to = if out { &mut screens } else { &mut page };
        to.push_str(line);
        to.push('\n');
        if out && line == ENDS {
            page.push_str(ENDS);
            page.push('\n');
            out = false;
        }
    }
    ensure!(!out, "a screen has no end");
    ensure!(
        page.matches(PLACE).count() == 1,
        "the page needs one {PLACE}"
    );
    let hash: String = (Sha256::digest(&screens).iter().take(4))
        .map(|byte| format!("{byte:02x}"))
        .collect();
    let name = format!("screens-{hash}.html");
    Ok(Apart {
        page: page.replace(
            PLACE,
            &format!("<main data-screens=\"{name}\" data-build=\"{build}\">"),
        ),
        before,
        between,
        behind,
        name,
        screens,
    })
}

/// The page's styles in three runs, their order kept but for those of the page
/// that stand among the screens': they come first.
fn styles(modules: &Files) -> Result<[String; 3]> {
    let sheets = page::sheets(modules, PAGE)?;
    let last = sheets.iter().rposition(|(name, _)| is_of_screens(name));
    let mut runs = <[String; 3]>::default();
    for (at, (name, sheet)) in sheets.iter().enumerate() {
        let run = match (is_of_screens(name), last) {
            (true, _) => 1,
            (false, Some(last)) if at > last => 2,
            _ => 0,
        };
        runs[run].push_str(sheet);
    }
    Ok(runs)
}

fn is_of_screens(sheet: &str) -> bool {
    let other = sheet.starts_with("screens/") && !sheet.starts_with(&format!("screens/{NOW}/"));
    other || sheet == "day/print.css"
}
