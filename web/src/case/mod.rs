//! What is in the case, and what to pack.

pub(crate) mod cover_kit;
pub(crate) mod day_needs;
pub(crate) mod file;
mod needs_working;
pub(crate) mod order_day;
pub(crate) mod read_list;
pub(crate) mod rings;
mod rings_working;
mod search_working;
pub(crate) mod sizes;
pub(crate) mod two_bodies;
pub(crate) mod weight;
mod weight_working;

pub use cover_kit::{
    ChosenReply, CoverKitReply, CoverKitRequest, NeedRequest, NeedSlotRequest, OneMoreReply,
    ServedReply, WareRequest, cover_kit,
};
pub use day_needs::{
    DayLightReply, DayNeedReply, DayNeedsReply, DayNeedsRequest, DaySkyRequest, DayWayReply,
    NeedLensRequest, day_needs,
};
pub use file::{
    CaseBody, CaseCards, CaseContent, CaseDay, CaseForm, CaseLens, CaseMode, CaseOpening,
    CasePlate, CasePupil, CaseRig, CaseSetUp, CaseSlot, CaseWant, CaseWheel, MountName, NeedsFrom,
    PupilBy, PupilWay, ReadCaseReply, ReadCaseRequest, WriteCaseReply, WriteCaseRequest, read_case,
    write_case,
};
pub use order_day::{
    DayOrder, OrderDayReply, OrderDayRequest, SetUpRequest, StageReply, order_day,
};
pub use read_list::{
    ListChoiceReply, ListEntryReply, ListFaultName, ListKind, ListTakenName, ListedReply,
    ReadListReply, ReadListRequest, read_list,
};
pub use rings::{
    OwnedRingRequest, RingClashReply, RingLensRequest, RingOfferRequest, RingPathReply, RingReply,
    RingToBuyReply, RingsReply, RingsRequest, rings,
};
pub use sizes::{FormatReply, PanelReply, SizesReply, SizesRequest, ThreadReply, sizes};
pub use two_bodies::{
    BodyStackReply, BothReply, ConflictReply, TakenReply, TwoBodiesReply, TwoBodiesRequest,
    TwoBodiesSetUp, two_bodies,
};
pub use weight::{HeaviestReply, Material, WeightItem, WeightReply, WeightRequest, weight};
