use super::*;
use crate::physics::pupil_range::PupilRange;
use crate::quantity::{FocalLength, Squeeze};
use crate::setup::ViewRecord;

fn mm(value: f64) -> Length {
    Length::new(value).unwrap()
}

fn question(light: Light) -> Question {
    Question {
        view: View::new(ViewRecord {
            width: Span::new(24.9).unwrap(),
            height: Span::new(14.0).unwrap(),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(35.0).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        })
        .unwrap(),
        f_number: Aperture::from_marking(2.8).unwrap(),
        lens: KnownLens::somewhere(PupilRange::known(mm(40.0).into())),
        half_glass: [mm(70.0), mm(50.0)],
        glass_ahead: mm(15.0),
        flag: Flag {
            hinge_out: mm(75.0),
            hinge_ahead: mm(60.0),
            lean: Angle::ZERO,
        },
        side: Side::Top,
        light,
    }
}

fn sun(degrees: f64) -> Light {
    let (up, ahead) = degrees.to_radians().sin_cos();
    Light::Sun([0.0, up, ahead])
}

#[test]
fn limbs_are_half_a_degree_apart() {
    for degrees in [0.0_f64, 12.0, -35.0, 70.0] {
        let (out, ahead) = degrees.to_radians().sin_cos();
        let angles = limbs(out, ahead)
            .unwrap()
            .map(|slope| slope.atan().to_degrees());
        assert!((angles[0] - degrees + SUN_RADIUS_DEG).abs() < 1e-9);
        assert!((angles[1] - degrees - SUN_RADIUS_DEG).abs() < 1e-9);
    }
}

#[test]
fn the_suns_edge_is_in_the_picture_before_its_middle() {
    // The top edge is atan(7/35) = 11.310° up.
    let seen = |degrees| flag(&question(sun(degrees))) == Answer::SourceInPicture;
    assert!(seen(11.3) && seen(11.57));
    assert!(!seen(11.58));
}

#[test]
fn the_low_limb_is_shaded_too() {
    // From the low edge of the glass at −50: slope tan(50° − 0.2666°).
    let Answer::Lengths {
        lengths: FlagAnswer::Fits { shortest, .. },
        ..
    } = flag(&question(sun(50.0)))
    else {
        panic!("it fits");
    };
    let slope = (50.0 - SUN_RADIUS_DEG).to_radians().tan();
    assert!((shortest.millimetres() - (125.0 / slope - 45.0)).abs() < 1e-9);
}

#[test]
fn the_reach_narrows_towards_a_near_lamp() {
    // A lamp 485 ahead of the glass, straight up over it: the shadow's edge
    // goes from ±70 at the glass to nothing at the lamp.
    let lamp = Light::Lamp([mm(0.0), mm(600.0), mm(500.0)]);
    let Answer::Lengths {
        lengths: FlagAnswer::Fits { shortest, .. },
        reach,
        ..
    } = flag(&question(lamp))
    else {
        panic!("it fits");
    };
    let way = 45.0 + shortest.millimetres();
    let wanted = 70.0 * (1.0 - way / 485.0);
    let (from, to) = reach.unwrap();
    assert!((to - wanted).abs() < 1e-9 && (from + wanted).abs() < 1e-9);
}

#[test]
fn what_is_sure_holds_for_all_the_lens_may_be() {
    let mut asked = question(sun(40.0));
    let Answer::Lengths {
        lengths,
        sure_longest,
        trust,
        ..
    } = flag(&asked)
    else {
        panic!("not in the picture");
    };
    let told = longest(lengths);
    let sure = sure_longest.unwrap().millimetres();
    assert!(sure < told && sure > told / 2.0, "{sure} of {told}");
    assert_eq!(trust, Trust::SureClear);
    // Measured, the two come together but for what the model leaves out.
    let exactly = crate::physics::known_lens::Between::exactly(0.0);
    asked.lens.place = crate::physics::known_lens::Place::Somewhere {
        pupil: PupilRange::known(mm(40.0).into()),
        distortion: Some(exactly),
    };
    asked.lens.growth = Some(exactly);
    asked.lens.widest = Aperture::from_marking(1.0).ok();
    let Answer::Lengths { sure_longest, .. } = flag(&asked) else {
        panic!("not in the picture");
    };
    assert!(sure_longest.unwrap().millimetres() > sure);
}
