//! What a German crew says, by the English word that means the same.

/// German first, in lower case. Only words that no other reading holds: a
/// capital O in coordinates is east in German and west in French, and so is
/// not here.
const WORDS: [(&str, &str); 47] = [
    ("blende", "stop"),
    ("blenden", "stops"),
    ("blendenstufe", "stop"),
    ("blendenstufen", "stops"),
    ("dichte", "density"),
    ("prozent", "percent"),
    ("mal", "times"),
    ("fach", "times"),
    ("grad", "deg"),
    ("sekunde", "s"),
    ("sekunden", "s"),
    ("bilder", "frames"),
    ("zoll", "in"),
    ("fuß", "ft"),
    ("fuss", "ft"),
    ("millimeter", "mm"),
    ("zentimeter", "cm"),
    ("kilometer", "km"),
    ("und", "and"),
    ("weniger", "less"),
    ("ein", "a"),
    ("eine", "a"),
    ("einer", "a"),
    ("komma", "point"),
    ("punkt", "point"),
    ("hundert", "hundred"),
    ("tausend", "thousand"),
    ("halb", "half"),
    ("halbe", "half"),
    ("drittel", "third"),
    ("viertel", "quarter"),
    ("achtel", "eighth"),
    ("zehntel", "tenth"),
    ("null", "zero"),
    ("eins", "one"),
    ("zwei", "two"),
    ("drei", "three"),
    ("vier", "four"),
    ("fünf", "five"),
    ("sechs", "six"),
    ("sieben", "seven"),
    ("acht", "eight"),
    ("neun", "nine"),
    ("zehn", "ten"),
    ("elf", "eleven"),
    ("zwölf", "twelve"),
    ("sechzehn", "sixteen"),
];

/// The English word for a German one; any other word stays.
pub(super) fn in_english(word: &str) -> &str {
    (WORDS.iter().find(|(german, _)| *german == word)).map_or(word, |(_, english)| english)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::{
        SpokenShutter, read_angle, read_aperture, read_density, read_length, read_number,
        read_shutter, read_stops,
    };

    #[test]
    fn apertures_and_stops_are_understood() {
        let index = |text| read_aperture(text).unwrap().aperture.index();
        for text in [
            "Blende 2,8⅓",
            "T zwei komma acht und ein Drittel",
            "zwei acht ⅓",
        ] {
            assert!((index(text) - (3.0 + 1.0 / 3.0)).abs() < 1e-12, "{text}");
        }
        assert!((index("T11 und zwei Drittel") - (7.0 + 2.0 / 3.0)).abs() < 1e-12);
        assert!((index("8 weniger ein Drittel") - (6.0 - 1.0 / 3.0)).abs() < 1e-12);
        let stops = |text| read_stops(text).unwrap().stops();
        assert_eq!(stops("5 Blenden"), 5.0);
        assert_eq!(stops("minus eine halbe Blende"), -0.5);
        assert!((stops("zwei und ein Drittel") - 7.0 / 3.0).abs() < 1e-12);
    }

    #[test]
    fn glass_and_settings_are_understood() {
        let density = |text| read_density(text).unwrap().density();
        assert_eq!(density("null komma neun"), 0.9);
        assert_eq!(density("Dichte 2"), 2.0);
        assert!((density("12,5 Prozent") - density("12.5 %")).abs() < 1e-12);
        assert!((density("64fach") - density("ND64")).abs() < 1e-12);
        assert_eq!(read_number("acht hundert").unwrap().value(), 800.0);
        assert_eq!(read_number("23,976 Bilder").unwrap().value(), 23.976);
        assert_eq!(read_angle("30 Grad").unwrap().degrees(), 30.0);
        assert!(matches!(
            read_shutter("2 Sekunden"),
            Ok(SpokenShutter::Time(time)) if time.seconds() == 2.0
        ));
    }

    #[test]
    fn lengths_are_understood() {
        let mm = |text| read_length(text).unwrap().millimetres();
        assert_eq!(mm("3 Meter"), 3000.0);
        assert_eq!(mm("77 Millimeter"), 77.0);
        assert!((mm("4 1/2 Zoll") - 114.3).abs() < 1e-9);
        assert!((mm("6 Fuß 2 Zoll") - 1879.6).abs() < 1e-9);
    }
}
