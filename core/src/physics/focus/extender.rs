//! Extenders and focal reducers behind the lens.

use crate::quantity::{Aperture, Extender, FocalLength, OutOfRange, Stops};

/// A lens together with what stands behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extended {
    /// The focal length of both together.
    pub focal: FocalLength,
    /// The aperture number of both together.
    pub number: Aperture,
    /// What it costs; negative for a reducer, which gains.
    pub loss: Stops,
}

/// What an extender or a focal reducer takes; negative for a reducer.
///
/// # Units
///
/// 2·log2 k stops.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::extender::loss;
/// use glasscall_core::quantity::Extender;
///
/// assert_eq!(loss(Extender::constant(2.0)).stops(), 2.0);
/// // A reducer gives light.
/// assert_eq!(loss(Extender::constant(0.5)).stops(), -2.0);
/// ```
#[must_use]
pub fn loss(by: Extender) -> Stops {
    Stops::computed(2.0 * libm::log2(by.factor()))
}

/// What a lens becomes with an extender or a focal reducer behind it.
///
/// The entrance pupil stays as large and where it was, so everything in front of
/// the lens is met by the same bundles; the glass of the extender itself takes a
/// little more.
///
/// # Units
///
/// Focal length and number times the factor k; 2·log2 k stops.
///
/// # Errors
///
/// [`OutOfRange`] when focal length or number leave their range.
///
/// # Source
///
/// The definition of the f-number: the pupil stays and the focal length is k times
/// as long, so N is, and the light falls with N².
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::extender::extended;
/// use glasscall_core::quantity::{Aperture, Extender, FocalLength};
///
/// let lens = extended(
///     FocalLength::constant(100.0),
///     Aperture::from_marking(4.0)?,
///     Extender::constant(2.0),
/// )?;
/// assert_eq!((lens.focal.millimetres(), lens.loss.stops()), (200.0, 2.0));
/// assert!((lens.number.number() - 8.0).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn extended(
    focal: FocalLength,
    number: Aperture,
    by: Extender,
) -> Result<Extended, OutOfRange> {
    let loss = loss(by);
    Ok(Extended {
        focal: FocalLength::new(focal.millimetres() * by.factor())?,
        number: number.closed_by(loss)?,
        loss,
    })
}

/// Diameter of the entrance pupil: f/N, millimetres.
///
/// # Source
///
/// Definition of the f-number.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::extender::pupil_diameter;
/// use glasscall_core::quantity::{Aperture, FocalLength};
///
/// let number = Aperture::from_marking(2.0)?;
/// assert!((pupil_diameter(FocalLength::constant(50.0), number) - 25.0).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn pupil_diameter(focal: FocalLength, number: Aperture) -> f64 {
    focal.millimetres() / number.number()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, Extended, Extender, FocalLength, extended, pupil_diameter};

    fn with(factor: f64) -> Extended {
        extended(
            FocalLength::new(200.0).unwrap(),
            Aperture::from_marking(2.8).unwrap(),
            Extender::new(factor).unwrap(),
        )
        .unwrap()
    }

    #[test]
    fn a_doubler_costs_two_stops_and_a_halver_gains_them() {
        assert_eq!(with(2.0).loss.stops(), 2.0);
        assert_eq!(with(0.5).loss.stops(), -2.0);
        assert_eq!(with(1.0).loss.stops(), 0.0);
    }

    #[test]
    fn the_pupil_keeps_its_size() {
        let bare = 200.0 / libm::sqrt(8.0);
        for factor in [0.71, 1.4, 2.0] {
            let both = with(factor);
            assert!((pupil_diameter(both.focal, both.number) - bare).abs() < 1e-12);
        }
    }
}
