//! Depth, blur, close-up lenses, flat glass and diffraction against `laws/`.

use glasscall_core::physics::blur::blur_disc;
use glasscall_core::physics::close_up::{power_together, subject_distance};
use glasscall_core::physics::depth_of_field::{depth_of_field, hyperfocal, number_for_depth};
use glasscall_core::physics::diffraction::airy_disc;
use glasscall_core::physics::plane_plate::{Plate, seen_through, shift};
use glasscall_core::quantity::{
    Aperture, Disc, Distance, FocalLength, Length, LensPower, Reach, RefractiveIndex, Thickness,
    Wavelength,
};
use glasscall_core::setup::Focus;
use glasscall_tests::{Group, LawCase, law, near, number};

fn at(millimetres: f64) -> Reach {
    Reach::At(Distance::new(millimetres).unwrap())
}

fn focal(case: &LawCase) -> FocalLength {
    FocalLength::new(number(&case.given, "focal_mm")).unwrap()
}

fn circle(case: &LawCase) -> Disc {
    Disc::new(number(&case.given, "circle_mm")).unwrap()
}

/// Within the group's relative tolerance of the case's own value.
fn agrees(group: &Group, case: &LawCase, field: &str, found: f64) {
    let wanted = number(&case.out, field);
    let tolerance = number(&group.tolerance, "rel") * wanted.abs();
    near(&case.id, field, found, wanted, tolerance);
}

#[test]
fn depth_and_blur_agree() {
    let group = law("focus", "depth");
    for case in &group.cases {
        let (focal, circle) = (focal(case), circle(case));
        let stop = Aperture::from_number(number(&case.given, "number")).unwrap();
        let on = number(&case.given, "focus_mm");
        let focus = Focus::from_lens(focal, at(on)).unwrap();
        let reach = hyperfocal(focal, stop, circle).unwrap().millimetres();
        let zone = depth_of_field(focus, stop, circle).unwrap();
        agrees(&group, case, "hyperfocal_mm", reach);
        agrees(&group, case, "near_mm", zone.near.millimetres());
        match zone.far {
            Reach::Infinity => assert_eq!(case.out["far_mm"], "infinity", "{}", case.id),
            Reach::At(far) => {
                // As the file says: ill-conditioned where s comes close to H.
                let wanted = number(&case.out, "far_mm");
                let scale = (wanted / (reach - on)).max(1.0);
                let tolerance = number(&group.tolerance, "rel") * wanted * scale;
                near(&case.id, "far_mm", far.millimetres(), wanted, tolerance);
            }
        }
        let background = at(number(&case.given, "background_mm"));
        let blur = blur_disc(focus, stop, background);
        agrees(&group, case, "blur_background_mm", blur);
        let blur = blur_disc(focus, stop, Reach::Infinity);
        agrees(&group, case, "blur_infinity_mm", blur);
        agrees(&group, case, "magnification", focus.magnification());
    }
}

#[test]
fn the_number_for_a_wanted_depth_agrees() {
    let group = law("focus", "number_for_depth");
    for case in &group.cases {
        let (focal, circle) = (focal(case), circle(case));
        let on = Distance::new(number(&case.given, "focus_mm")).unwrap();
        let wanted = at(number(&case.given, "wanted_depth_mm"));
        let stop = number_for_depth(focal, on, circle, wanted).unwrap();
        agrees(&group, case, "number", stop.number());
        let focus = Focus::from_lens(focal, Reach::At(on)).unwrap();
        let zone = depth_of_field(focus, stop, circle).unwrap();
        agrees(&group, case, "near_mm", zone.near.millimetres());
        let far = zone.far.distance().unwrap().millimetres();
        agrees(&group, case, "far_mm", far);
    }
}

#[test]
fn close_up_lenses_agree() {
    let group = law("focus", "close_up");
    for case in &group.cases {
        let lenses = case.given["diopters"].as_array().unwrap();
        let lenses = lenses.iter().map(|power| power.as_f64().unwrap());
        let power = power_together(lenses.map(|power| LensPower::new(power).unwrap())).unwrap();
        let far = subject_distance(Reach::Infinity, power).unwrap();
        let closest = at(number(&case.given, "lens_near_mm"));
        let near = subject_distance(closest, power).unwrap();
        agrees(&group, case, "far_mm", far.millimetres());
        agrees(&group, case, "near_mm", near.millimetres());
    }
}

#[test]
fn flat_glass_agrees() {
    let group = law("focus", "glass_behind");
    for case in &group.cases {
        let found = shift(Plate {
            thickness: Thickness::new(number(&case.given, "thickness_mm")).unwrap(),
            index: RefractiveIndex::new(number(&case.given, "n")).unwrap(),
        });
        agrees(&group, case, "shift_mm", found);
        let in_front = Length::new(found).unwrap();
        assert_eq!(
            seen_through(Reach::Infinity, in_front),
            Ok(Reach::Infinity),
            "{}: in front of a lens at infinity nothing moves",
            case.id
        );
    }
}

#[test]
fn the_airy_disc_agrees() {
    let group = law("focus", "diffraction");
    for case in &group.cases {
        let stop = Aperture::from_number(number(&case.given, "number")).unwrap();
        let micrometres = number(&case.given, "wavelength_um");
        let disc = airy_disc(stop, Wavelength::new(micrometres * 1000.0).unwrap());
        agrees(&group, case, "airy_diameter_um", disc * 1000.0);
    }
}
