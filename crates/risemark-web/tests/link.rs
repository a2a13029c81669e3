//! Jobs in addresses, in a browser: packed and unpacked, and refused where they are hostile.

use risemark::file;
use risemark_web::link::{self, Refusal};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

const WORKSHOP: &str = include_str!("../../../examples/workshop/job.json");

/// Packed by zlib 1.3 and base64url of another language's library.
const PACKED: &str = "q1ZKyy_KTSxRslIqyixOzU0sytbNyk9S0lHKS8xNBYp6Z-bkKRTl5-fqKAQf3pOiVAsA";
const TEXT: &str = "{\"format\":\"risemark-job\",\"name\":\"Kiln room, Süd\"}";

async fn address_of(text: &str) -> String {
    link::address(text).await.expect("this browser packs")
}

#[wasm_bindgen_test]
async fn a_job_comes_back_from_its_address() {
    let address = address_of(WORKSHOP).await;
    assert!(address.len() < link::LONGEST, "two walls fit a link, found {}", address.len());
    let packed = link::packed_in(&address).expect("an address with a job");
    assert!(
        packed.bytes().all(|sign| sign.is_ascii_alphanumeric() || b"-_".contains(&sign)),
        "{packed}"
    );
    let text = link::text(packed).await.expect("what was packed is unpacked");
    assert_eq!(file::read(&text).ok(), file::read(WORKSHOP).ok(), "the same job");
}

#[wasm_bindgen_test]
async fn what_another_library_packed_is_unpacked() {
    assert_eq!(link::text(PACKED).await.as_deref(), Ok(TEXT), "raw deflate in base64url");
}

#[wasm_bindgen_test]
async fn what_was_cut_or_changed_is_refused() {
    let cut = &PACKED[..PACKED.len() - 6];
    for packed in ["", "%", "a", "====", "not packed at all", "AAAA", "________", cut] {
        assert_eq!(link::text(packed).await, Err(Refusal::Damaged), "{packed}");
    }
}

#[wasm_bindgen_test]
async fn a_few_signs_that_stand_for_millions_are_refused() {
    let bomb = address_of(&format!("\"{}\"", "a".repeat(5_000_000))).await;
    assert!(bomb.len() < 10_000, "a small address, found {}", bomb.len());
    let packed = link::packed_in(&bomb).expect("an address with a job");
    assert_eq!(link::text(packed).await, Err(Refusal::TooLarge), "five million letters");
    let endless = "A".repeat(300_000);
    assert_eq!(link::text(&endless).await, Err(Refusal::TooLarge), "a long address");
}
