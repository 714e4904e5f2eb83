//! Flags: how long to shade the glass, how long before the picture sees it.

use crate::quantity::{Angle, Length};

/// A flag in the plane that holds the lens axis and points to its side.
///
/// Distances out from the lens axis towards the flag's side, and ahead of the
/// rim. The flag is taken wide enough ([`sideways_reach`] says how wide).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flag {
    /// Where it begins: out from the axis.
    pub hinge_out: Length,
    /// Where it begins: ahead of the rim.
    pub hinge_ahead: Length,
    /// How far it leans out from straight ahead.
    pub lean: Angle,
}

/// The outer glass, as the flag's side sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OuterGlass {
    /// From the axis to its edge on the flag's side, and on the other.
    pub half: Length,
    /// Ahead of the rim.
    pub ahead: Length,
}

/// The picture's edge on the flag's side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FieldEdge {
    /// Tangent of the field angle there.
    pub tangent: f64,
    /// Half of the pupil on that side.
    pub pupil_half: Length,
    /// The pupil behind the rim.
    pub pupil_behind: Length,
}

/// Where the light comes from, in the flag's plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Source {
    /// The sun: parts of its direction out and ahead.
    Far {
        /// Towards the flag's side.
        out: f64,
        /// Along the lens axis.
        ahead: f64,
    },
    /// A lamp at a place.
    Near {
        /// Out from the axis.
        out: Length,
        /// Ahead of the rim.
        ahead: Length,
    },
}

/// How long the flag may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlagAnswer {
    /// The light falls on the back of the glass: no flag is needed.
    FromBehind,
    /// The light comes from the axis or the other side of it.
    WrongSide,
    /// From `shortest` to `longest` will do; without a longest any will.
    Fits {
        /// Shades the whole outer glass; 0 when the hinge does already.
        shortest: Length,
        /// Stays out of the picture.
        longest: Option<Length>,
    },
    /// No length does both.
    Impossible {
        /// Would shade the glass; `None` when no length does.
        shortest: Option<Length>,
        /// Stays out of the picture; `None` when even the hinge is in it.
        longest: Option<Length>,
    },
}

/// Flags longer than this are not flags: ten metres.
const LONGEST: f64 = 10_000.0;

/// How long a flag may be.
///
/// The last point to be shaded is the edge of the glass away from the flag; the
/// ray from it to the light must meet the flag before the flag's end. The first
/// light of the picture to be lost runs along the edge of the picture from the
/// pupil's edge. The box between hinge and glass is taken to be opaque.
///
/// # Units
///
/// With m the slope of the ray to the light, t the field's tangent, λ the lean:
/// shortest = (H + r − m·(zh − zg))/(m·cos λ − sin λ), longest =
/// (H − rp − t·(zh + p))/(t·cos λ − sin λ).
///
/// # Source
///
/// Own derivation, from two straight lines each.
#[must_use]
pub fn flag_length(flag: Flag, glass: OuterGlass, field: FieldEdge, source: Source) -> FlagAnswer {
    let mm = Length::millimetres;
    let Some(slope) = slope_to(source, glass) else {
        return FlagAnswer::FromBehind;
    };
    if slope <= 0.0 {
        return FlagAnswer::WrongSide;
    }
    let (sine, cosine) = libm::sincos(flag.lean.degrees().to_radians());
    let (out, ahead) = (mm(flag.hinge_out), mm(flag.hinge_ahead));
    let uncovered = out + mm(glass.half) - slope * (ahead - mm(glass.ahead));
    let shortest = gained(uncovered, slope * cosine - sine);
    let room = out - mm(field.pupil_half) - field.tangent * (ahead + mm(field.pupil_behind));
    let closing = field.tangent * cosine - sine;
    let longest = if room < 0.0 {
        None
    } else if closing <= 0.0 {
        Some(LONGEST)
    } else {
        Some((room / closing).min(LONGEST))
    };
    let length = |mm: f64| Length::new(mm).ok();
    match (shortest.and_then(length), longest) {
        (Some(shortest), Some(longest)) if mm(shortest) <= longest => FlagAnswer::Fits {
            shortest,
            longest: length(longest).filter(|_| longest < LONGEST),
        },
        (shortest, longest) => FlagAnswer::Impossible {
            shortest,
            longest: longest.and_then(length),
        },
    }
}

/// How far along the flag a gap closes; `None` when it never does.
fn gained(gap: f64, rate: f64) -> Option<f64> {
    if gap <= 0.0 {
        Some(0.0)
    } else {
        (rate > 0.0)
            .then(|| gap / rate)
            .filter(|length| *length <= LONGEST)
    }
}

/// Slope, out over ahead, of the ray from the far edge of the glass; `None`
/// when the light is not in front of the glass.
fn slope_to(source: Source, glass: OuterGlass) -> Option<f64> {
    let (out, ahead) = match source {
        Source::Far { out, ahead } => (out, ahead),
        Source::Near { out, ahead } => (
            out.millimetres() + glass.half.millimetres(),
            ahead.millimetres() - glass.ahead.millimetres(),
        ),
    };
    (ahead > 1e-9).then(|| out / ahead)
}

/// How far a flag's end must reach sideways, from the lens axis.
///
/// # Units
///
/// Millimetres along the side axis, least and most: the glass's half-width,
/// shifted by the light's least and greatest slope sideways over the way to the
/// flag's end. `gathered` is the share of the way to a lamp, where all its light
/// comes from one point: so much narrower is the shadow there.
#[must_use]
pub fn sideways_reach(half_width: Length, slopes: [f64; 2], way: f64, gathered: f64) -> (f64, f64) {
    let half = half_width.millimetres() * (1.0 - gathered).max(0.0);
    let [least, most] = slopes;
    (least * way - half, most * way + half)
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop on a bad value"
)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::new(value).unwrap()
    }

    /// A 100 mm glass at the rim, a hinge 70 mm up and 20 mm ahead.
    fn length(lean: f64, tangent: f64, source: Source) -> FlagAnswer {
        let flag = Flag {
            hinge_out: mm(70.0),
            hinge_ahead: mm(20.0),
            lean: Angle::new(lean).unwrap(),
        };
        let glass = OuterGlass {
            half: mm(50.0),
            ahead: mm(0.0),
        };
        let field = FieldEdge {
            tangent,
            pupil_half: mm(10.0),
            pupil_behind: mm(30.0),
        };
        flag_length(flag, glass, field, source)
    }

    fn sun(degrees: f64) -> Source {
        let (out, ahead) = degrees.to_radians().sin_cos();
        Source::Far { out, ahead }
    }

    #[test]
    fn a_sun_at_forty_five_degrees_wants_a_hundred() {
        // 70 + 50 up at slope 1, less the 20 the hinge is ahead.
        let FlagAnswer::Fits { shortest, longest } = length(0.0, 0.25, sun(45.0)) else {
            panic!("it fits");
        };
        assert!((shortest.millimetres() - 100.0).abs() < 1e-9);
        // (70 − 10 − 0.25·50)/0.25 = 190.
        assert!((longest.unwrap().millimetres() - 190.0).abs() < 1e-9);
    }

    #[test]
    fn a_low_sun_and_a_wide_lens_are_impossible() {
        assert!(matches!(
            length(0.0, 0.5, sun(30.0)),
            FlagAnswer::Impossible {
                shortest: Some(_),
                longest: Some(_)
            }
        ));
    }

    #[test]
    fn a_flag_that_leans_out_as_steeply_as_the_sun_never_shades() {
        assert!(matches!(
            length(46.0, 0.25, sun(45.0)),
            FlagAnswer::Impossible { shortest: None, .. }
        ));
    }

    #[test]
    fn a_flag_that_leans_out_past_the_field_may_be_any_length() {
        assert!(matches!(
            length(30.0, 0.25, sun(60.0)),
            FlagAnswer::Fits { longest: None, .. }
        ));
    }

    #[test]
    fn light_from_behind_needs_none_and_from_below_gets_none() {
        assert_eq!(length(0.0, 0.25, sun(120.0)), FlagAnswer::FromBehind);
        assert_eq!(length(0.0, 0.25, sun(-20.0)), FlagAnswer::WrongSide);
    }

    #[test]
    fn a_lamp_far_off_is_a_sun() {
        let lamp = Source::Near {
            out: mm(1e8),
            ahead: mm(1e8),
        };
        let (FlagAnswer::Fits { shortest: near, .. }, FlagAnswer::Fits { shortest: far, .. }) =
            (length(0.0, 0.25, lamp), length(0.0, 0.25, sun(45.0)))
        else {
            panic!("both fit");
        };
        assert!((near.millimetres() - far.millimetres()).abs() < 1e-3);
    }

    #[test]
    fn the_tip_of_the_shortest_flag_lies_on_the_last_ray() {
        // An independent route: from the low edge of the glass, through the
        // tip, towards the sun.
        let FlagAnswer::Fits { shortest, .. } = length(15.0, 0.2, sun(50.0)) else {
            panic!("it fits");
        };
        let (sine, cosine) = 15f64.to_radians().sin_cos();
        let tip = (
            70.0 + shortest.millimetres() * sine,
            20.0 + shortest.millimetres() * cosine,
        );
        assert!(((tip.0 + 50.0) / tip.1 - 50f64.to_radians().tan()).abs() < 1e-12);
    }

    #[test]
    fn a_slanting_light_shifts_the_reach_and_keeps_its_width() {
        // 0.5·100 = 50 to the right, 40 either way, by hand.
        let reach = |slope, gathered| sideways_reach(mm(40.0), [slope; 2], 100.0, gathered);
        assert_eq!(reach(0.5, 0.0), (10.0, 90.0));
        assert_eq!(reach(-0.5, 0.0), (-90.0, -10.0));
        // A quarter of the way to a lamp: three quarters of the width.
        assert_eq!(reach(0.5, 0.25), (20.0, 80.0));
    }

    #[test]
    fn glass_ahead_of_the_rim_is_shaded_from_where_it_is() {
        // As at 45°, the glass 15 mm nearer to the hinge: 120 − 1·(20 − 15).
        let flag = Flag {
            hinge_out: mm(70.0),
            hinge_ahead: mm(20.0),
            lean: Angle::new(0.0).unwrap(),
        };
        let glass = OuterGlass {
            half: mm(50.0),
            ahead: mm(15.0),
        };
        let field = FieldEdge {
            tangent: 0.25,
            pupil_half: mm(10.0),
            pupil_behind: mm(30.0),
        };
        let FlagAnswer::Fits { shortest, .. } = flag_length(flag, glass, field, sun(45.0)) else {
            panic!("it fits");
        };
        assert!((shortest.millimetres() - 115.0).abs() < 1e-9);
        // A lamp 250 up and 315 ahead: from the lower rim the slope is 300/300.
        let lamp = Source::Near {
            out: mm(250.0),
            ahead: mm(315.0),
        };
        let FlagAnswer::Fits { shortest, .. } = flag_length(flag, glass, field, lamp) else {
            panic!("it fits");
        };
        assert!((shortest.millimetres() - 115.0).abs() < 1e-9);
        let level_with_it = Source::Near {
            out: mm(250.0),
            ahead: mm(15.0),
        };
        assert!(matches!(
            flag_length(flag, glass, field, level_with_it),
            FlagAnswer::FromBehind
        ));
    }

    #[test]
    fn the_longest_leaning_flag_ends_on_the_fields_edge() {
        // Its end, 70 + L·sin λ out and 20 + L·cos λ ahead, on the line that
        // leaves the pupil's edge, 10 out and 30 behind.
        let (lean, tangent) = (10f64, 0.4);
        let FlagAnswer::Fits { longest, .. } = length(lean, tangent, sun(60.0)) else {
            panic!("it fits");
        };
        let long = longest.unwrap().millimetres();
        let (sine, cosine) = lean.to_radians().sin_cos();
        let field = 10.0 + tangent * (30.0 + 20.0 + long * cosine);
        assert!((70.0 + long * sine - field).abs() < 1e-9);
    }

    #[test]
    fn a_hinge_in_the_picture_takes_no_flag_and_one_on_its_edge_one_of_no_length() {
        // 70 − 10 at 50 ahead of the pupil: the field's edge at tangent 1.2.
        let sinking = |tangent| length(-90.0, tangent, sun(45.0));
        let longest = |answer| match answer {
            FlagAnswer::Impossible { longest, .. } | FlagAnswer::Fits { longest, .. } => longest,
            _ => panic!("the light is in front"),
        };
        assert_eq!(longest(sinking(1.2)), Some(Length::ZERO));
        // Leaning straight out it runs from the field, but begins inside.
        assert!(matches!(
            length(90.0, 1.3, sun(45.0)),
            FlagAnswer::Impossible { longest: None, .. }
        ));
    }

    #[test]
    fn a_light_in_the_plane_of_the_glass_is_not_in_front_of_it() {
        let beside = |ahead| length(0.0, 0.25, Source::Far { out: 1.0, ahead });
        assert_eq!(beside(1e-9), FlagAnswer::FromBehind);
        assert_ne!(beside(2e-9), FlagAnswer::FromBehind);
    }
}
