// The chat without full loads. Everything here is a comfort: forms and links work without it.
"use strict";

(() => {
  const chat = document.getElementById("chat");
  const log = document.getElementById("log");
  const waiting = document.getElementById("waiting");
  const choices = document.getElementById("choices");
  const typing = document.getElementById("typing");
  const text = document.getElementById("text");
  let last = Number(chat.dataset.last);
  let busy = false;
  let listening = null;

  // Adds what is not shown yet. The news may come twice: as the answer to a message and by the stream.
  const show = (news) => {
    if (!news) return;
    const fresh = document.createElement("template");
    fresh.innerHTML = news.entries;
    const first = [...fresh.content.children].filter((entry) => Number(entry.dataset.number) > last);
    if (first.length > 0) {
      if (last === 0) log.replaceChildren();
      if (first.some((entry) => entry.id === "now")) document.getElementById("now")?.removeAttribute("id");
      log.append(...first);
      (first.find((entry) => entry.classList.contains("you")) ?? first[0]).scrollIntoView({ block: "start" });
    }
    if (news.last >= last) {
      last = news.last;
      choices.innerHTML = news.choices;
    }
    listen();
  };

  // The server ends each stream after some minutes, and the browser asks again by itself; where it found no place it
  // gives up, and we ask again later.
  const listen = () => {
    if (listening || last === 0 || !window.EventSource) return;
    listening = new EventSource(`/events?after=${last}`);
    listening.addEventListener("error", () => {
      if (listening?.readyState !== EventSource.CLOSED) return;
      listening = null;
      setTimeout(listen, 20_000 + Math.random() * 20_000);
    });
    listening.addEventListener("said", (event) => {
      if (!busy) show(JSON.parse(event.data));
    });
  };

  const wait = (on) => {
    busy = on;
    document.body.setAttribute("aria-busy", String(on));
    waiting.replaceChildren();
    if (!on) return;
    const said = document.createElement("span");
    said.className = "hidden";
    said.textContent = waiting.dataset.say;
    const dots = document.createElement("span");
    dots.className = "dots";
    dots.setAttribute("aria-hidden", "true");
    waiting.append(said, dots);
    waiting.scrollIntoView({ block: "nearest" });
  };

  const send = async (form, pressed) => {
    const fields = new URLSearchParams(new FormData(form));
    if (pressed?.name) fields.set(pressed.name, pressed.value);
    fields.set("after", String(last));
    wait(true);
    try {
      const answer = await fetch("/say", {
        method: "POST",
        body: fields,
        headers: { Accept: "application/json" },
      });
      if (answer.ok) {
        const news = await answer.json();
        wait(false);
        show(news);
        form.elements.id.value = crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`.replace(".", "");
        if (form === typing) text.value = "";
        return;
      }
      // What the server has to say about it stands on a page of its own.
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      wait(false);
      waiting.textContent = page.querySelector("main p")?.textContent ?? chat.dataset.trouble;
    } catch {
      wait(false);
      waiting.textContent = chat.dataset.trouble;
    }
  };

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form !== typing && !form.classList.contains("choices")) return;
    event.preventDefault();
    if (!busy) send(form, event.submitter);
  });

  listen();
  document.getElementById("now")?.scrollIntoView({ block: "start" });
})();
