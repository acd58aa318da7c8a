//! The outputs that the README and the manual show.

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

fn printed(shown: &str, real: &str) -> Result<String, String> {
    let block = |output: &str| format!("```console\n$ hosewright a\n{output}```\n");
    let fresh = renewed(&block(shown), |_| Ok(real.to_owned()))?;
    let (_, below) = fresh.split_once("a\n").unwrap();
    Ok(below.strip_suffix("```\n").unwrap().to_owned())
}

#[test]
fn a_part_left_out_in_the_middle_stays_out() {
    let real = "head\n\n◆ one   unsound\n  now of\n  two lines\n\n● three   sound\n\nfour\n";
    let check = |shown: &str, expected: &str| {
        assert_eq!(printed(shown, real).as_deref(), Ok(expected), "{shown}");
    };
    check(
        "head, old\n…\n◖ three   marginal\n…\n",
        "head\n…\n● three   sound\n…\n",
    );
    // A verdict is shown whole, however many lines it takes now.
    check(
        "…\n◆ one   unsound\n  of one line\n…\nfour\n",
        "…\n◆ one   unsound\n  now of\n  two lines\n…\nfour\n",
    );
    check(
        "…\n◆ one   unsound\n  old\n\n● three   sound\n…\n",
        "…\n◆ one   unsound\n  now of\n  two lines\n\n● three   sound\n…\n",
    );
    // Where nothing is left out any more, nothing says so.
    check(
        "old\n…\n◆ one   unsound\n…\n● three   sound\n…\nfour\n",
        real,
    );
}

#[test]
fn a_part_that_is_printed_no_more_is_a_fault() {
    let fault = printed("…\ngone\n", "head\none\n").unwrap_err();
    assert_eq!(
        fault,
        "`a`: the line `gone` is printed no more; choose by hand what to show"
    );
}

#[test]
fn a_blank_line_between_two_commands_is_no_line_of_the_first() {
    check(
        "```console\n$ hosewright a\nold\n…\n\n$ hosewright b\n```\n",
        "```console\n$ hosewright a\nran a\n…\n\n$ hosewright b\nran b\nand more\n```\n",
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
