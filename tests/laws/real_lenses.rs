//! Sure answers against the light of published lenses, traced on to the image.
//!
//! `reference/traced_lenses.json`; the shares that this prints stand in the page
//! beside it.

use glasscall_tests::before_traced::{asked, truth};
use glasscall_tests::{call, number, traced_lenses};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// How deep a reading is off where cards are read, in millimetres.
const READING_MM: f64 = 0.5;
/// A truth closer than this is no error of anybody.
const TOUCH_MM: f64 = 0.05;

/// What is told of the lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Known {
    Front,
    FrontAndLook,
    FrontAndCircle,
    CircleAndLook,
    Figure,
    FigureAndFront,
    Cards,
    CardsAndLook,
}

const EACH: [Known; 8] = [
    Known::Front,
    Known::FrontAndLook,
    Known::FrontAndCircle,
    Known::CircleAndLook,
    Known::Figure,
    Known::FigureAndFront,
    Known::Cards,
    Known::CardsAndLook,
];

/// How large a picture the lens is known to cover, mm.
fn circle(lens: &Value) -> f64 {
    let corners = lens["views"].as_array().unwrap().iter();
    2.0 * corners
        .map(|view| number(view, "cornerMm"))
        .fold(0.0, f64::max)
}

fn request(lens: &Value, view: &Value, known: Known, misread: usize) -> Value {
    let mut asked = asked(lens, view);
    let front = known != Known::Figure;
    if front {
        asked["frontDiameterMm"] = lens["frontMm"].clone();
    }
    match known {
        Known::Front | Known::FrontAndLook => {}
        Known::FrontAndCircle | Known::CircleAndLook => {
            asked["imageCircleMm"] = circle(lens).into();
        }
        Known::Figure | Known::FigureAndFront => {
            asked["pupilBehindRimMm"] = lens["pupilMm"].clone();
        }
        Known::Cards | Known::CardsAndLook => {
            // At the side, both heights off by half a millimetre in one of the
            // four ways.
            let side = &view["points"][1];
            let off = |up: bool| if up { READING_MM } else { -READING_MM };
            let height = |ahead: f64, off: f64| {
                number(side, "chiefMm") + ahead * number(side, "tangent") + off
            };
            asked["cards"] = json!({"horizontal": {
                "nearMm": 30, "nearHeightMm": height(30.0, off(misread & 1 > 0)),
                "farMm": 150, "farHeightMm": height(150.0, off(misread & 2 > 0)),
            }});
        }
    }
    asked
}

impl Known {
    /// The most answers in a hundred that may say “look”: what was found, rounded
    /// up.
    const fn most_looks(self) -> usize {
        match self {
            Self::Front => 16,
            Self::FrontAndLook => 9,
            Self::FrontAndCircle => 14,
            Self::CircleAndLook => 8,
            Self::Figure => 10,
            Self::FigureAndFront => 8,
            Self::Cards => 5,
            Self::CardsAndLook => 2,
        }
    }
}

#[derive(Debug, Default, Clone, Copy)]
struct Count {
    all: usize,
    look: usize,
    clear: usize,
    shade: usize,
    false_clear: usize,
    false_shade: usize,
}

#[test]
fn no_sure_answer_is_false_on_a_published_lens() {
    let all = std::env::var_os("GLASSCALL_ALL_TRACES").is_some();
    let mut counts: BTreeMap<(Known, bool), Count> = BTreeMap::new();
    for (nth, lens) in traced_lenses().iter().enumerate() {
        let front = number(lens, "frontMm");
        let chosen = lens["chosenWith"].as_bool().unwrap();
        for (at, view) in lens["views"].as_array().unwrap().iter().enumerate() {
            // Some views, other ones of each lens: all take minutes.
            if !all && (nth + at) % 4 > 0 {
                continue;
            }
            for known in EACH {
                let mut asked = request(lens, view, known, nth + at);
                let mut reply = call("fit", &asked).unwrap_or_else(|refusal| {
                    panic!("{}: {} at {}", lens["id"], refusal.message(), refusal.field)
                });
                let room = |at: usize| truth(view, front, &asked["openings"][at]);
                let looks = matches!(
                    known,
                    Known::FrontAndLook | Known::CircleAndLook | Known::CardsAndLook
                );
                if let (true, Some(at)) = (looks, reply["settles"]["opening"].as_u64()) {
                    let at = usize::try_from(at).unwrap();
                    let seen = if room(at) >= 0.0 { "clear" } else { "shades" };
                    asked["openings"][at]["seen"] = seen.into();
                    reply = call("fit", &asked).unwrap();
                }
                let count = counts.entry((known, chosen)).or_default();
                for (told, opening) in (reply["openings"].as_array().unwrap().iter())
                    .zip(asked["openings"].as_array().unwrap())
                {
                    let room = truth(view, front, opening);
                    count.all += 1;
                    let trust = told["trust"].as_str().unwrap();
                    let which = || {
                        let (id, view) = (&lens["id"], &view["cornerMm"]);
                        eprintln!("{id} corner {view} {known:?} {trust} {room:.2}: {opening}");
                    };
                    match trust {
                        "look" => count.look += 1,
                        "sureClear" => {
                            count.clear += 1;
                            if room < -TOUCH_MM {
                                count.false_clear += 1;
                                which();
                            }
                        }
                        _ => {
                            count.shade += 1;
                            if room > TOUCH_MM {
                                count.false_shade += 1;
                                which();
                            }
                        }
                    }
                }
            }
        }
    }
    let mut wrong = 0;
    for ((known, chosen), count) in &counts {
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let share = |part: usize| 100.0 * part as f64 / count.all as f64;
        println!(
            "{known:?} chosen with {chosen}: {} asked, look {:.1} %, clear {:.1} %, shades {:.1} %, false {:.2} % and {:.2} %",
            count.all,
            share(count.look),
            share(count.clear),
            share(count.shade),
            share(count.false_clear),
            share(count.false_shade),
        );
        wrong += count.false_clear + count.false_shade;
        assert!(count.clear > count.all / 4, "{known:?} is hardly ever sure");
    }
    assert_eq!(wrong, 0, "sure answers that are false");
    for known in counts.keys().map(|(known, _)| *known) {
        let both = [true, false].map(|chosen| counts[&(known, chosen)]);
        let (look, all) = (both[0].look + both[1].look, both[0].all + both[1].all);
        assert!(
            100 * look <= known.most_looks() * all,
            "{known:?}: {look} of {all} say look"
        );
    }
}
