//! The light's trend against a statistics library.

use glasscall_core::answer::light_trend::{READING_DEVIATION, TimedReading, Trend};
use glasscall_core::quantity::{Moment, Stops};
use glasscall_tests::{law, near, number};
use serde_json::Value;

fn numbers(value: &Value) -> Vec<f64> {
    let list = value.as_array().unwrap();
    list.iter().map(|one| one.as_f64().unwrap()).collect()
}

fn moment(minute: f64) -> Moment {
    Moment::EPOCH.later_by(1.8e9 + minute * 60.0)
}

#[test]
fn a_line_and_its_intervals_agree() {
    let mut with_scatter = 0;
    for case in law("trend", "line").cases {
        let minutes = numbers(&case.given["minutes"]);
        let stops = numbers(&case.given["stops"]);
        let readings: Vec<TimedReading> = (minutes.iter().zip(stops))
            .map(|(&minute, stops)| TimedReading {
                moment: moment(minute),
                light: Stops::new(stops).unwrap(),
            })
            .collect();
        let trend = Trend::straight(&readings).unwrap();
        let at = moment(number(&case.given, "at_minute"));
        let out = |field| number(&case.out, field);
        let rate = trend.rate_at(at).unwrap();
        near(&case.id, "rate", rate, out("stops_per_hour"), 1e-6);
        let light = trend.light_at(at).unwrap().stops();
        near(&case.id, "light", light, out("stops_at"), 1e-6);
        // Below the floor a meter's third stands in for the scatter.
        let floor = 1.96 * READING_DEVIATION;
        let raised = (floor / out("t_s")).max(1.0);
        with_scatter += usize::from(raised == 1.0);
        // Student's t is printed to three decimals, and a series past ten.
        let wanted = out("rate_half_95") * raised;
        let half = trend.rate_interval().unwrap();
        near(&case.id, "rate interval", half, wanted, 0.002 * wanted);
        let wanted = out("half_95_at") * raised;
        let half = trend.interval_at(at).stops();
        near(&case.id, "interval", half, wanted, 0.002 * wanted);
    }
    assert!(
        with_scatter >= 10,
        "only {with_scatter} cases above the floor"
    );
}

#[test]
fn what_published_skies_stray_lies_in_the_interval_of_a_followed_sky() {
    // Each of the thirteen models anchored at one height and followed down to
    // another. 95 %: one of thirteen may lie outside.
    use glasscall_core::physics::daylight::strays;
    use glasscall_core::quantity::Elevation;
    let cases = glasscall_tests::law("daylight", "spread").cases;
    let at = |case: &glasscall_tests::LawCase| glasscall_tests::number(&case.given, "altitude_deg");
    let stray = |degrees| strays(Elevation::new(degrees).unwrap()).stops();
    // What one reading in thirds is worth, twice.
    let reading = 1.96 * glasscall_core::answer::light_trend::READING_DEVIATION;
    for (from, to) in [
        (15.0, 10.0),
        (15.0, 5.0),
        (20.0, 10.0),
        (20.0, 5.0),
        (30.0, 10.0),
    ] {
        let [above, below] =
            [from, to].map(|height| cases.iter().find(|case| at(case) == height).unwrap());
        let grown: f64 = stray(to) * stray(to) - stray(from) * stray(from);
        let half = reading.hypot(grown.abs().sqrt());
        let models = above.out["stops_against_supplement"].as_object().unwrap();
        let outside = models
            .iter()
            .filter(|(name, there)| {
                let then = below.out["stops_against_supplement"][*name]
                    .as_f64()
                    .unwrap();
                (then - there.as_f64().unwrap()).abs() > half
            })
            .count();
        assert!(
            outside <= 1,
            "{from} to {to}: {outside} of {} outside ±{half}",
            models.len()
        );
    }
}
