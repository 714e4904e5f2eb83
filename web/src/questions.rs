//! Every question of the public interface, in one table.
//!
//! Bindings, native calls, the list in `API.md`, tests and fuzzing are made from
//! it: a question that is not here is none.

use crate::plain::reading::{self, FromPlain};
use crate::plain::refusal::{Code, Refusal};
use crate::plain::tree::Tree;
use crate::plain::writing::ToPlain;

/// A question of the public interface.
#[derive(Debug, Clone, Copy)]
pub struct Question {
    /// What JavaScript calls it.
    pub name: &'static str,
    /// Type of the request, and the array that stands beside it, if any.
    pub asks: &'static str,
    /// Type of the reply.
    pub replies: &'static str,
    /// What it answers.
    pub about: &'static str,
    /// A sound request as JSON; an array beside it is one field more.
    pub example: &'static str,
    answer: Answering,
}

impl Question {
    /// Answers it as the module does, from plain value to plain value.
    ///
    /// # Errors
    ///
    /// What the question refuses.
    pub fn answer(&self, request: &Tree) -> Result<Tree, Refusal> {
        (self.answer)(request)
    }
}

/// The table: name, function, request and reply, what it is about, an example.
/// An array of numbers stands beside the requests at the end.
macro_rules! questions {
    ($make:ident) => { $make! {
        "readText" read_text("ReadTextRequest") -> "ReadTextReply",
            "Reads what people say and write as a quantity.",
            r#"{"text":"T11 and two thirds","as":"aperture"}"#;
        "convertDensity" convert_density("ConvertDensityRequest") -> "ConvertDensityReply",
            "One of density, stops, factor and transmittance as all four.",
            r#"{"density":0.9}"#;
        "exposure" exposure("ExposureRequest") -> "ExposureReply",
            "Light, stop, time and exposure index, solving the missing one.",
            r#"{"exposureIndex":100,"frameRate":24,"shutterAngleDeg":180,"illuminanceLux":80000}"#;
        "openUp" open_up("OpenUpRequest") -> "OpenUpReply",
            "From a reading to the best stacks of the pieces in the case.",
            r#"{"reading":{"aperture":16,"exposureIndex":800,"frameRate":24,"shutterAngleDeg":180},
            "shot":{"aperture":2.8,"exposureIndex":800,"frameRate":24,"shutterAngleDeg":180},
            "kit":[{"id":"A","kind":"nd","density":0.9},{"id":"B","kind":"nd","density":0.6}],
            "rig":{"slots":[{"id":"tray 1"},{"id":"tray 2"}]}}"#;
        "readPlace" read_place("ReadPlaceRequest") -> "ReadPlaceReply",
            "Reads a pasted pair of coordinates.",
            r#"{"text":"51° 36' N, 3° 42' E"}"#;
        "sun" sun("SunRequest") -> "SunReply",
            "Where the sun stands.",
            r#"{"latitudeDeg":51.6,"longitudeDeg":3.7,"time":"2031-05-04T18:00:00+02:00"}"#;
        "sunDay" sun_day("SunDayRequest") -> "SunDayReply",
            "The sun's day at a place.",
            r#"{"latitudeDeg":51.6,"longitudeDeg":3.7,"date":"2031-05-04","offsetMinutes":120}"#;
        "sunImage" sun_image("SunImageRequest") -> "SunImageReply",
            "The image of the sun behind a lens: how large, how many times direct sun.",
            r#"{"focalLengthMm":400,"aperture":2.8}"#;
        "line" line("LineRequest") -> "LineReply",
            "Where a graduated filter's line falls, how it blends, which edge suits.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
            "pupilBehindRimMm":40,"distanceFromRimMm":36,"profile":{"kind":"soft","density":0.9,
            "rampMm":30},"lineAtFrameHeight":0.5,"heights":[0,0.5,1]}"#;
        "skyAndGround" sky_and_ground("SkyAndGroundRequest") -> "SkyAndGroundReply",
            "The graduated filter that brings two readings closer.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
            "pupilBehindRimMm":40,"distanceFromRimMm":36,"lineAtFrameHeight":0.5,"bright":{"aperture":16,
            "atFrameHeight":0.9},"dark":{"aperture":5.6,"atFrameHeight":0.1},"allowedStops":1,
            "grads":[{"id":"0.9 soft","profile":{"kind":"soft","density":0.9,"rampMm":30}}]}"#;
        "lineMotion" line_motion("LineMotionRequest") -> "LineMotionReply",
            "What a graduated filter costs while the shot moves.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
            "pupilBehindRimMm":40,"grad":{"distanceFromRimMm":36,"profile":{"kind":"soft",
            "density":0.9,"rampMm":30},"lineAtFrameHeight":0.5},"subject":{"atFrameHeight":0.35},
            "move":{"tiltToDeg":-4}}"#;
        "sky" sky("SkyRequest") -> "SkyReply",
            "What a polarizer does to the sky in a picture.",
            r#"{"sunAzimuthDeg":250,"sunElevationDeg":25,"aimAzimuthDeg":340,"aimElevationDeg":10,
            "sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"polarizerDeg":"darkest"}"#;
        "skyAims" sky_aims("SkyAimsRequest") -> "SkyAimsReply",
            "How dark a polarizer makes the sky, aim by aim.",
            r#"{"sunAzimuthDeg":250,"sunElevationDeg":25,"aimElevationDeg":10}"#;
        "skyHours" sky_hours("SkyHoursRequest") -> "SkyHoursReply",
            "How dark a polarizer makes the sky, hour by hour.",
            r#"{"latitudeDeg":51.6,"longitudeDeg":3.7,"date":"2031-05-04","offsetMinutes":120,
            "aimAzimuthDeg":340,"aimElevationDeg":10}"#;
        "reflection" reflection("ReflectionRequest") -> "ReflectionReply",
            "What a surface reflects and what a polarizer leaves of it.",
            r#"{"refractiveIndex":1.333,"angleDeg":53}"#;
        "crossedPolarizers" crossed_polarizers("CrossedPolarizersRequest") -> "CrossedPolarizersReply",
            "Two polarizers as a density that turns.",
            r#"{"stops":4}"#;
        "measuredPolarizer" measured_polarizer("MeasuredPolarizerRequest") -> "MeasuredPolarizerReply",
            "A polarizer's own loss from readings through it.",
            r#"{"bareAperture":16,"brightestAperture":9,"darkestAperture":8}"#;
        "daylight" daylight("DaylightRequest") -> "DaylightReply",
            "Light of the clear sky before anyone has read it.",
            r#"{"sunElevationDeg":30}"#;
        "drift" drift("DriftRequest") -> "DriftReply",
            "From timed readings to the next swaps.",
            r#"{"readings":[{"time":"2031-05-04T17:00:00+02:00","aperture":16,"exposureIndex":800,
            "frameRate":24,"shutterAngleDeg":180},{"time":"2031-05-04T18:00:00+02:00",
            "aperture":11,"exposureIndex":800,"frameRate":24,"shutterAngleDeg":180}],
            "shot":{"aperture":2.8,"exposureIndex":800,"frameRate":24,"shutterAngleDeg":180},
            "kit":[{"id":"A","kind":"nd","density":0.9},{"id":"B","kind":"nd","density":0.6}],
            "rig":{"slots":[{"id":"tray 1"},{"id":"tray 2"}]}}"#;
        "flag" flag("FlagRequest") -> "FlagReply",
            "How long a flag must be, and how long it may be.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
            "pupilBehindRimMm":40,"glass":{"widthMm":140,"heightMm":100,"distanceFromRimMm":15},
            "flag":{"side":"top","hingeFromAxisMm":75,"hingeFromRimMm":60},"lamp":{"rightMm":0,
            "upMm":2000,"aheadMm":1500}}"#;
        "ghost" ghost("GhostRequest") -> "GhostReply",
            "Where glass that faces glass doubles a lamp, and how bright.",
            r#"{"between":"plateAndSensor","tiltDeg":0,"focalLengthMm":35,"reflectances":[0.04,
            0.1]}"#;
        "coverKit" cover_kit("CoverKitRequest") -> "CoverKitReply",
            "The cheapest set of pieces that serves every need.",
            r#"{"needs":[{"stops":3,"slots":2},{"stops":5,"slots":2}],"catalogue":[{"id":"0.6",
            "kind":"nd","density":0.6,"cost":60},{"id":"0.9","kind":"nd","density":0.9,
            "cost":65},{"id":"1.5","kind":"nd","density":1.5,"cost":90}]}"#;
        "dayNeeds" day_needs("DayNeedsRequest") -> "DayNeedsReply",
            "What the glass must take over a day.",
            r#"{"reading":{"aperture":16,"exposureIndex":800,"frameRate":24,"shutterAngleDeg":180},
            "darkestAperture":8,"shot":{"aperture":2.8,"exposureIndex":800,"frameRate":24,
            "shutterAngleDeg":180}}"#;
        "orderDay" order_day("OrderDayRequest") -> "OrderDayReply",
            "The stacks of a day with the fewest moves.",
            r#"{"setUps":[{"id":"quay","needStops":5},{"id":"deck","needStops":3}],"kit":[{"id":"A",
            "kind":"nd","density":0.9},{"id":"B","kind":"nd","density":0.6}],"rig":{"slots":[{"id":"tray 1"},
            {"id":"tray 2"}]},"order":"free"}"#;
        "twoBodies" two_bodies("TwoBodiesRequest") -> "TwoBodiesReply",
            "What two bodies take from one case, set-up by set-up, and what both want.",
            r#"{"setUps":[{"id":"quay","needStops":5,"otherNeedStops":3}],"kit":[{"id":"A","kind":"nd",
            "density":0.9},{"id":"B","kind":"nd","density":0.6}],"rig":{"slots":[{"id":"tray 1"},
            {"id":"tray 2"}]}}"#;
        "rings" rings("RingsRequest") -> "RingsReply",
            "Which rings join each lens to the filter, and what to buy.",
            r#"{"lenses":[{"id":"85","threadMm":72}],"filterMm":82,"owned":[{"fromMm":72,
            "toMm":77},{"fromMm":77,"toMm":82}]}"#;
        "writeCase" write_case("WriteCaseRequest") -> "WriteCaseReply",
            "The case as a file.",
            r#"{"case":{"pieces":[{"id":"A","kind":"nd","density":0.9}]},"as":"csv"}"#;
        "readCase" read_case("ReadCaseRequest") -> "ReadCaseReply",
            "The case from a file, whole or as far as it is sound.",
            r#"{"text":"{\n\"format\": \"glasscall-case\",\n\"version\": 1,\n\"pieces\": [\n  {\"id\": \"A\", \"kind\": \"nd\", \"density\": 0.9, \"size\": \"\", \"split\": false, \"count\": 1}\n],\n\"lenses\": [],\n\"rings\": [],\n\"rigs\": [],\n\"slots\": [],\n\"bodies\": [],\n\"modes\": [],\n\"wheels\": [],\n\"openings\": [],\n\"plates\": [],\n\"ringOffers\": [],\n\"wares\": [],\n\"days\": [],\n\"setUps\": [],\n\"wants\": []\n}\n"}"#;
        "readList" read_list("ReadListRequest") -> "ReadListReply",
            "Pieces and lenses out of a list that somebody wrote or said.",
            r#"{"text":"4x4: 0.3 0.6, pola; 25 T1.9 82"}"#;
        "drawCode" draw_code("DrawCodeRequest") -> "DrawCodeReply",
            "A text as a square code to be scanned.",
            r#"{"text":"0.9 and 0.6"}"#;
        "weight" weight("WeightRequest") -> "WeightReply",
            "What hangs in front, and the counterweight for it.",
            r#"{"items":[{"name":"box","massG":650,"distanceFromRimMm":45}],"pivotBehindRimMm":120,
            "counterArmMm":150}"#;
        "fit" fit("FitRequest") -> "FitReply",
            "Whether the glass in front of this lens shades this picture.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
            "pupilBehindRimMm":40,"openings":[{"name":"tray","distanceFromRimMm":24,
            "shape":"rectangle","widthMm":134,"heightMm":95}]}"#;
        "pupilByTwoCards" pupil_by_two_cards("PupilByTwoCardsRequest") -> "PupilByTwoCardsReply",
            "The entrance pupil by two cards ahead of the lens.",
            r#"{"nearMm":100,"nearHeightMm":60,"farMm":300,"farHeightMm":120}"#;
        "pupilByRing" pupil_by_ring("PupilByRingRequest") -> "PupilByRingReply",
            "The entrance pupil by a ring that begins to darken the corners.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
            "ringDiameterMm":77,"darkensFromMm":25}"#;
        "pupilByFront" pupil_by_front("PupilByFrontRequest") -> "PupilByFrontReply",
            "Limits of the entrance pupil by the front of the lens.",
            r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"widestFNumber":1.5,
            "frontDiameterMm":77}"#;
        "sizes" sizes("SizesRequest") -> "SizesReply",
            "The sizes of the trade, each with where it comes from.",
            r#"{}"#;
        "depth" depth("DepthRequest") -> "DepthReply",
            "What is sharp, how large the background blurs, the stop for a wish.",
            r#"{"focalLengthMm":50,"fNumber":2.8,"focusMm":3000,"circleMm":0.025}"#;
        "closeUp" close_up("CloseUpRequest") -> "CloseUpReply",
            "Where close-up lenses focus and what they take in.",
            r#"{"dioptres":[2],"lensNearMm":1000}"#;
        "behindLens" behind_lens("BehindLensRequest") -> "BehindLensReply",
            "What flat glass behind the lens does to focus, and in front.",
            r#"{"focalLengthMm":35,"fNumber":2.8,"circleMm":0.025,"behind":[{"thicknessMm":2}]}"#;
        "colour" colour("ColourRequest") -> "ColourReply",
            "Colour temperature through a stack, against the white balance.",
            r#"{"lightKelvin":5600,"shiftsMired":[20],"balanceKelvin":5600}"#;
        "infrared" infrared("InfraredRequest") -> "InfraredReply",
            "Visible and infrared light through a stack, kept apart.",
            r#"{"pieces":[{"id":"1.2","kind":"nd","density":1.2}]}"#;
        "workingStop" working_stop("WorkingStopRequest") -> "WorkingStopReply",
            "What a lens becomes with an extender, and focused near.",
            r#"{"focalLengthMm":100,"aperture":2.8,"extender":1.4}"#;
        "flicker" flicker("FlickerRequest") -> "FlickerReply",
            "Shutter angles that lamps on the mains do not disturb.",
            r#"{"frameRate":24,"shutterAngleDeg":180,"mainsHz":[50]}"#;
        "ramp" ramp("RampRequest") -> "RampReply",
            "A change during the shot at constant exposure.",
            r#"{"from":{"aperture":5.6,"exposureIndex":800,"frameRate":24,"shutterAngleDeg":180},
            "to":{"frameRate":48},"by":"iris"}"#;
        "solve" solve("SolveRequest") -> "SolveReply",
            "Any number of a question as the unknown: where its answer is what is wanted.",
            r#"{"question":"exposure","request":{"frameRate":24,"shutterAngleDeg":180,
            "exposureIndex":800,"aperture":4},"unknown":{"path":"aperture"},
            "wanted":{"path":"illuminanceLux","is":5000}}"#;
        beside {
            "frameMap" frame_map("FrameMapRequest") -> "Float32Array",
                "Stops lost over the whole frame, row by row from the top, NaN where clipped.",
                r#"{"sensor":{"widthMm":24.89,"heightMm":18.66},"focalLengthMm":35,"fNumber":2.8,
                "pupilBehindRimMm":40,"uniformStops":3,"columns":4,"rows":3}"#, frame_map;
            "paintFrame" paint_frame("PaintFrameRequest, stops") -> "Uint8ClampedArray",
                "A map of stops lost as a picture for a canvas: red, green, blue, opacity.",
                r##"{"columns":2,"rows":2,"shape":1.5,"horizonAtFrameHeight":0.45,"skyStops":3,
                "exposedStops":3,"colours":{"sky":"#8fb4d8","ground":"#8a8172","line":"#ffffff"},
                "stops":[3,3,null,1]}"##, paint_frame;
            "readCode" read_code("ReadCodeRequest, pixels") -> "ReadCodeReply",
                "What square codes in a picture say; its pixels as a canvas gives them.",
                r#"{"columns":2,"rows":1,"pixels":[255,255,255,255,0,0,0,255]}"#, read_code;
        }
    } };
}
pub(crate) use questions;

macro_rules! list {
    (
        $($js:literal $name:ident($request:literal) -> $reply:literal, $about:literal, $example:literal;)*
        beside {
            $($js_beside:literal $name_beside:ident($request_beside:literal) -> $reply_beside:literal,
                $about_beside:literal, $example_beside:literal, $answer_beside:ident;)*
        }
    ) => {
        /// All of them.
        pub const QUESTIONS: &[Question] = &[
            $(Question {
                name: $js,
                asks: $request,
                replies: $reply,
                about: $about,
                example: $example,
                answer: |tree| answered(tree, crate::$name),
            },)*
            $(Question {
                name: $js_beside,
                asks: $request_beside,
                replies: $reply_beside,
                about: $about_beside,
                example: $example_beside,
                answer: $answer_beside,
            },)*
        ];
    };
}

questions!(list);

macro_rules! by_name {
    (
        $($js:literal $name:ident($request:literal) -> $reply:literal, $about:literal, $example:literal;)*
        beside { $($rest:tt)* }
    ) => {
        /// How a question without arrays beside it is answered; the module holds
        /// this and not the whole table with its texts.
        pub(crate) fn answering(question: &str) -> Option<Answering> {
            match question {
                $($js => Some(|tree| answered(tree, crate::$name)),)*
                _ => None,
            }
        }
    };
}

questions!(by_name);

/// From plain value to plain value.
pub(crate) type Answering = fn(&Tree) -> Result<Tree, Refusal>;

/// Reads a request of its shape.
///
/// # Errors
///
/// What is missing, unknown or of the wrong type.
pub(crate) fn asked<Q: FromPlain>(tree: &Tree) -> Result<Q, Refusal> {
    Ok(reading::read(tree)?)
}

/// An answer from tree to tree.
///
/// # Errors
///
/// What the question refuses.
pub(crate) fn answered<Q: FromPlain, A: ToPlain>(
    tree: &Tree,
    answer: impl FnOnce(&Q) -> Result<A, Refusal>,
) -> Result<Tree, Refusal> {
    Ok(answer(&asked(tree)?)?.to_plain())
}

fn frame_map(tree: &Tree) -> Result<Tree, Refusal> {
    answered(tree, crate::frame_map)
}

fn paint_frame(tree: &Tree) -> Result<Tree, Refusal> {
    let (request, stops) = apart(tree, "stops")?;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "as an array of single floats takes them"
    )]
    let stop = |item: &Tree| match item {
        Tree::Number(number) => *number as f32,
        _ => f32::NAN,
    };
    let stops: Vec<f32> = stops.iter().map(stop).collect();
    answered(&request, |request: &crate::PaintFrameRequest| {
        let mut painter = crate::Painter::default();
        painter.paint(request, &stops).map(<[u8]>::to_vec)
    })
}

fn read_code(tree: &Tree) -> Result<Tree, Refusal> {
    let (request, pixels) = apart(tree, "pixels")?;
    let byte = |item: &Tree| match item {
        Tree::Number(number) => clamped(*number),
        _ => 0,
    };
    let pixels: Vec<u8> = pixels.iter().map(byte).collect();
    answered(&request, |request: &crate::ReadCodeRequest| {
        crate::read_code(request, &pixels)
    })
}

/// The request without the array that JavaScript hands over beside it.
fn apart<'a>(tree: &'a Tree, array: &str) -> Result<(Tree, &'a [Tree]), Refusal> {
    let Tree::Record(fields) = tree else {
        return Err(Refusal::new(Code::WrongType, ""));
    };
    let Some((_, Tree::List(items))) = fields.iter().find(|(name, _)| name == array) else {
        return Err(Refusal::new(Code::WrongType, array));
    };
    let rest = fields.iter().filter(|(name, _)| name != array);
    Ok((Tree::Record(rest.cloned().collect()), items))
}

/// A number as a byte, as an array of clamped bytes takes it.
fn clamped(number: f64) -> u8 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "from 0 to 255; what is no number is 0"
    )]
    let byte = number.clamp(0.0, 255.0).round_ties_even() as u8;
    byte
}
