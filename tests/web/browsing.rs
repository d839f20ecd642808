//! The page in real Chromium: the whole chat with and without the script, sharing, and every page's looks.

use serde_json::Value;

use crate::browser::{Browser, Kind};
use crate::server::Server;
use crate::shed::SHED;

/// Goes through the interview up to the plan.
async fn plan(browser: &Browser) {
    // All but the last yes, which is pressed here.
    for said in SHED.split_last().expect("messages").1 {
        browser.say(said).await;
    }
    browser.press("do-plan").await;
    browser.wait_text("Your plan is ready").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_whole_chat_with_the_script() {
    let server = Server::start().await;
    let browser = Browser::start(Kind::default()).await;
    browser.size(390, 844).await;
    browser.go(&server.url("/")).await;
    browser.wait_text("Hello, I'm lapwise.").await;
    browser.check_access("greeting").await;
    browser.picture("greeting").await;
    browser.size(390, 844).await;
    browser.run("window.stillHere = true").await;
    browser.press("felt").await;
    browser.wait_text("What is on the roof now: Felt.").await;
    browser.picture("chat").await;
    browser.size(390, 844).await;
    plan(&browser).await;
    assert_eq!(browser.run("return window.stillHere").await, Value::Bool(true), "the page was loaded again");
    browser.check_access("plan").await;
    browser.picture("plan").await;

    browser.press("do-show-materials").await;
    browser.press("do-share").await;
    browser.wait_text("This is what your supplier would see").await;
    browser.picture("share-ask").await;
    browser.press("yes").await;
    browser.wait_for("#log .link a").await;
    browser.wait_for("#log img.code").await;
    browser.check_access("link").await;
    browser.picture("share-link").await;
    let seen = browser
        .run("const i = document.querySelector('#log img.code'); return i.complete && i.naturalWidth > 100")
        .await;
    assert_eq!(seen, Value::Bool(true), "the code of the link is not shown");

    supplier_answers(&browser, &server).await;

    browser.say("revoke the link").await;
    browser.wait_text("The link is closed.").await;
    browser.reload().await;
    browser.wait_text("The link is closed.").await;
    let logs = browser.run("return performance.getEntriesByType('resource').filter((one) => one.responseStatus >= 400).map((one) => one.name)").await;
    assert_eq!(logs, serde_json::json!([]), "something could not be loaded");
}

/// Another browser, another person: the supplier at the counter. The chat hears of it without a load.
async fn supplier_answers(browser: &Browser, server: &Server) {
    let link = browser.attribute("#log .link a", "href").await.expect("a link");
    let counter = Browser::start(Kind { without_script: true, dark: false }).await;
    counter.size(1280, 800).await;
    counter.go(&link).await;
    counter.wait_text("List for the supplier").await;
    counter.picture("sheet").await;
    counter.click("input[name='stock-0'][value='in']").await;
    counter.write("input[name='price-0']", "lots").await;
    counter.click("form .send").await;
    counter.wait_text("plain number").await;
    counter.picture("sheet-wrong").await;
    counter.run("document.querySelector(\"input[name='price-0']\").value = ''").await;
    counter.write("input[name='price-0']", "60").await;
    counter.write("input[name='instead-1']", "the zinc one, 1 m").await;
    counter.click("input[name='stock-1'][value='instead']").await;
    counter.click("form .send").await;
    counter.wait_text("Your answer has been sent").await;
    counter.picture("sheet-sent").await;

    browser.wait_text("Your supplier has answered.").await;
    browser.wait_text("In all £60.00").await;
    browser.picture("answer").await;
    let looking = Browser::start(Kind::default()).await;
    looking.size(390, 844).await;
    looking.go(&link).await;
    looking.check_access("sheet").await;
    looking.go(&server.url("/s/closed")).await;
    looking.wait_text("This link no longer works").await;
    looking.check_access("closed link").await;
    looking.picture("closed").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_whole_chat_without_the_script() {
    let server = Server::start().await;
    let browser = Browser::start(Kind { without_script: true, dark: false }).await;
    browser.size(390, 844).await;
    browser.go(&server.url("/")).await;
    browser.wait_text("Hello, I'm lapwise.").await;
    plan(&browser).await;
    browser.press("do-show-materials").await;
    browser.press("do-share").await;
    browser.press("yes").await;
    let link = browser.attribute("#log .link a", "href").await.expect("a link");
    browser.go(&link).await;
    browser.click("input[name='stock-2'][value='out']").await;
    browser.click("form .send").await;
    browser.wait_text("Your answer has been sent").await;
    browser.go(&server.url("/")).await;
    browser.wait_text("not in stock").await;
    browser.say("revoke the link").await;
    browser.go(&link).await;
    browser.wait_text("This link no longer works").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_keyboard_alone_will_do_and_the_dark_is_dark() {
    let server = Server::start().await;
    let browser = Browser::start(Kind { without_script: false, dark: true }).await;
    browser.size(390, 844).await;
    browser.go(&server.url("/")).await;
    browser.wait_text("Hello, I'm lapwise.").await;
    // Tab: the way past the chat. Enter: into the text.
    browser.keys("\u{e004}").await;
    let focused = browser.run("return document.activeElement.className").await;
    assert_eq!(focused, "skip", "the first stop leads past the chat");
    browser.keys("\u{e007}").await;
    browser.keys("felt\u{e007}").await;
    browser.wait_text("What is on the roof now: Felt.").await;
    let paper = browser.run("return getComputedStyle(document.body).backgroundColor").await;
    assert_eq!(paper, "rgb(18, 24, 23)", "dark by preference");
    browser.check_access("dark").await;
    browser.picture("dark").await;
    browser.size(390, 844).await;
    // Tab again and again: every button of the page is reached, each with a ring around it.
    browser.run("document.activeElement.blur()").await;
    let mut reached = Vec::new();
    for _ in 0..12 {
        browser.keys("\u{e004}").await;
        let stop = browser.run("const e = document.activeElement; return [e.textContent.trim() || e.id, getComputedStyle(e).outlineStyle]").await;
        reached.push((stop[0].as_str().unwrap_or_default().to_owned(), stop[1] == "solid"));
    }
    for wanted in ["All sound", "Not sure", "text", "Send"] {
        assert!(
            reached.iter().any(|(stop, ring)| stop == wanted && *ring),
            "{wanted} is not reached: {reached:?}"
        );
    }
}
