//! Small letters, as far as the words of `spoken` have them.

/// The small letter of a capital of Latin-1, or of a sign that looks like one.
///
/// No word that is known here holds another letter, and the tables of all the
/// world's capitals weigh 12 kB.
pub(super) fn small(letter: char) -> char {
    match letter {
        '\u{212a}' => 'k',
        '\u{212b}' => 'å',
        'ẞ' => 'ß',
        'Ÿ' => 'ÿ',
        'À'..='Ö' | 'Ø'..='Þ' => u32::from(letter)
            .checked_add(0x20)
            .and_then(char::from_u32)
            .unwrap_or(letter),
        _ => letter.to_ascii_lowercase(),
    }
}

#[cfg(test)]
mod tests {
    use super::small;

    #[test]
    fn every_letter_that_becomes_one_of_latin_1_does() {
        for letter in char::MIN..=char::MAX {
            let mut full = letter.to_lowercase();
            let (Some(first), None) = (full.next(), full.next()) else {
                continue;
            };
            if u32::from(first) < 0x100 {
                assert_eq!(small(letter), first, "{letter}");
            }
        }
    }
}
