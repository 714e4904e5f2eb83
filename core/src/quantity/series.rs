//! The engraved aperture series and the exact values their labels stand for.

/// A series of engraved aperture numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// One mark a stop.
    Full,
    /// Two marks a stop.
    Half,
    /// Three marks a stop.
    Third,
}

/// Full-stop labels from index −1 (0.7) on.
///
/// Labels as lenses bear them and as listed in Wikipedia, “F-number”; ISO 517:2008
/// specifies such a series.
pub(super) const FULL: [f64; 16] = [
    0.7, 1.0, 1.4, 2.0, 2.8, 4.0, 5.6, 8.0, 11.0, 16.0, 22.0, 32.0, 45.0, 64.0, 90.0, 128.0,
];
/// Labels halfway between, from index −½ (0.85) on.
const BETWEEN_HALVES: [f64; 13] = [
    0.85, 1.2, 1.7, 2.4, 3.3, 4.8, 6.7, 9.5, 13.0, 19.0, 27.0, 38.0, 54.0,
];
/// Labels one and two thirds on, from index −⅔ (0.8) on.
const BETWEEN_THIRDS: [[f64; 2]; 13] = [
    [0.8, 0.9],
    [1.1, 1.2],
    [1.6, 1.8],
    [2.2, 2.5],
    [3.2, 3.5],
    [4.5, 5.0],
    [6.3, 7.1],
    [9.0, 10.0],
    [13.0, 14.0],
    [18.0, 20.0],
    [25.0, 29.0],
    [36.0, 40.0],
    [51.0, 57.0],
];

impl Series {
    /// The stop index a label of this series stands for, if it is one.
    ///
    /// # Units
    ///
    /// Stops from aperture number 1: index k = 2·log2 N.
    #[must_use]
    pub fn index_of(self, label: f64) -> Option<f64> {
        let full = position(&FULL, label).map(|whole| whole - 1.0);
        full.or_else(|| match self {
            Self::Full => None,
            Self::Half => position(&BETWEEN_HALVES, label).map(|whole| whole - 0.5),
            Self::Third => (0..2).find_map(|nth| {
                let labels = BETWEEN_THIRDS.map(|pair| pair[nth]);
                let thirds = if nth == 0 { 1.0 } else { 2.0 };
                position(&labels, label).map(|whole| whole - 1.0 + thirds / 3.0)
            }),
        })
    }
}

/// The stop index a label of any series stands for; `None` for any other number.
///
/// 1.2 and 13 are in both the half and the third series and mean different
/// things there. Thirds win: answers here are counted in thirds.
///
/// # Examples
///
/// ```
/// use glasscall_core::quantity::exact_index;
///
/// assert_eq!(exact_index(2.8), Some(3.0));
/// assert_eq!(exact_index(2.9), None);
/// ```
#[must_use]
pub fn exact_index(label: f64) -> Option<f64> {
    [Series::Full, Series::Third, Series::Half]
        .into_iter()
        .find_map(|series| series.index_of(label))
}

#[expect(clippy::cast_precision_loss, reason = "a series has 16 labels at most")]
fn position(labels: &[f64], label: f64) -> Option<f64> {
    labels
        .iter()
        .position(|&engraved| engraved == label)
        .map(|at| at as f64)
}

#[cfg(test)]
mod tests {
    use super::{Series, exact_index};

    #[test]
    fn a_label_means_its_exact_stop() {
        assert_eq!(exact_index(2.8), Some(3.0));
        assert_eq!(exact_index(22.0), Some(9.0));
        assert_eq!(exact_index(6.7), Some(5.5));
        assert_eq!(exact_index(0.7), Some(-1.0));
    }

    #[test]
    fn a_number_on_no_ring_has_no_label() {
        assert_eq!(exact_index(2.9), None);
        assert_eq!(exact_index(f64::NAN), None);
    }

    #[test]
    fn thirteen_depends_on_the_series() {
        assert_eq!(Series::Half.index_of(13.0), Some(7.5));
        assert_eq!(Series::Third.index_of(13.0), Some(7.0 + 1.0 / 3.0));
        assert_eq!(exact_index(13.0), Series::Third.index_of(13.0));
    }
}
