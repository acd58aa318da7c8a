//! The outputs that the README shows.

use xtask::examples::renewed;

fn check(text: &str, expected: &str) {
    let fresh = renewed(text, |arguments| Ok(format!("ran {arguments}\nand more\n"))).unwrap();
    assert_eq!(fresh, expected);
}

#[test]
fn an_output_is_put_below_its_command() {
    check(
        "Text.\n```console\n$ hosewright a b\nold\n```\nEnd.\n",
        "Text.\n```console\n$ hosewright a b\nran a b\nand more\n```\nEnd.\n",
    );
}

#[test]
fn an_output_that_is_cut_short_stays_as_short() {
    check(
        "```console\n$ hosewright a\nold\n…\n```\n",
        "```console\n$ hosewright a\nran a\n…\n```\n",
    );
}

#[test]
fn two_commands_of_one_block_are_parted_by_a_blank_line() {
    check(
        "```console\n$ hosewright a\n$ hosewright b\n```\n",
        "```console\n$ hosewright a\nran a\nand more\n\n$ hosewright b\nran b\nand more\n```\n",
    );
}

#[test]
fn a_document_without_outputs_is_refused() {
    assert!(renewed("$ hosewright a\n", |_| Ok(String::new())).is_err());
}
