//! Any text as a case file, whole or in part. What is read can be written in
//! both forms, and reads back as the same case.
#![no_main]

use glasscall_web::{CaseForm, ReadCaseRequest, WriteCaseRequest, read_case, write_case};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    for take_part in [false, true] {
        let request = ReadCaseRequest {
            text: text.to_owned(),
            take_part,
        };
        let Ok(read) = read_case(&request) else {
            continue;
        };
        for form in [CaseForm::Json, CaseForm::Csv] {
            let request = WriteCaseRequest {
                case: read.case.clone(),
                form,
            };
            let text = write_case(&request).expect("a case that was read").text;
            let again = read_case(&ReadCaseRequest {
                text,
                take_part: false,
            });
            assert_eq!(again.expect("a case that was written").case, read.case);
        }
    }
});
