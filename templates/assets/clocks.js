// A clock beside each time in the steps: several at once, a sound without a file, the count in the window's title.
"use strict";

(() => {
  const shelf = document.querySelector(".clocks");
  const bell = document.querySelector(".bell");
  if (!shelf || !bell) return;
  const say = kitchen.say;
  const list = shelf.querySelector("ul");
  const title = document.title;
  const place = `clocks ${location.pathname}`;
  const RING_FOR = 20_000; // ms; a bell that nobody hears is only noise

  let clocks = [];
  let beat = null;
  let audio = null;

  function left(ms) {
    const seconds = Math.max(Math.ceil(ms / 1000), 0);
    const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
    const two = (n) => String(n).padStart(2, "0");
    return hours ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${minutes}:${two(seconds % 60)}`;
  }

  // What a held clock shows is what it had left; it goes on from there.
  const now = (clock) => clock.held ?? Date.now();

  // A clock's next end: its first time, then, where a step gives two, the second.
  const due = (clock) => (clock.looked ? clock.to : clock.from);

  function keep() {
    try {
      const told = clocks.map(({ step, words, from, to, looked, over, held }) => ({ step, words, from, to, looked, over, held }));
      if (told.length) sessionStorage.setItem(place, JSON.stringify(told));
      else sessionStorage.removeItem(place);
    } catch {
      // A browser that keeps nothing: the clocks run until the page is left.
    }
  }

  function strike() {
    if (!audio || audio.state !== "running") return;
    const now = audio.currentTime;
    [0, 0.22, 0.44].forEach((after, i) => {
      const tone = audio.createOscillator();
      const loud = audio.createGain();
      tone.frequency.value = [880, 660, 880][i];
      loud.gain.setValueAtTime(0.0001, now + after);
      loud.gain.exponentialRampToValueAtTime(0.3, now + after + 0.02);
      loud.gain.exponentialRampToValueAtTime(0.0001, now + after + 0.2);
      tone.connect(loud).connect(audio.destination);
      tone.start(now + after);
      tone.stop(now + after + 0.21);
    });
  }

  // Sound may start only at the reader's own touch, so it is made ready when a clock is set.
  function listen() {
    const Context = globalThis.AudioContext ?? globalThis.webkitAudioContext;
    if (!Context) return;
    audio ??= new Context();
    audio.resume().catch(() => {});
  }

  function button(text, label, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = text;
    made.setAttribute("aria-label", label);
    made.addEventListener("click", act);
    return made;
  }

  function item(clock) {
    const line = document.createElement("li");
    const name = document.createElement("span");
    name.className = "clock-name";
    name.textContent = clock.step;
    const rest = document.createElement("span");
    rest.className = "clock-left";
    const more = button(say("counter.clock_add_short"), say("counter.clock_add", clock), () => {
      const end = Math.max(due(clock), now(clock)) + 60_000;
      clock.over = false;
      clock.ringing = 0;
      if (clock.looked) clock.to = end;
      else clock.from = end;
      clock.to = Math.max(clock.to, clock.from);
      tick();
    });
    const hold = button("", "", () => {
      const since = clock.held;
      if (since === null) {
        clock.held = Date.now();
      } else {
        clock.from += Date.now() - since;
        clock.to += Date.now() - since;
        clock.held = null;
      }
      tick();
    });
    hold.className = "hold";
    const stop = button(say("counter.clock_stop_short"), say("counter.clock_stop", clock), () => {
      const next = line.nextElementSibling ?? line.previousElementSibling;
      clocks = clocks.filter((other) => other !== clock);
      line.remove();
      tick();
      (next?.querySelector("button") ?? clock.from_button ?? document.getElementById("main"))?.focus();
    });
    line.append(name, rest, more, hold, stop);
    clock.line = line;
    clock.rest = rest;
    clock.hold = hold;
    list.append(line);
  }

  function ring(clock, now) {
    clock.ringing = now;
    list.scrollTop = clock.line.offsetTop - list.offsetTop;
    const again = !clock.looked && clock.to > clock.from;
    bell.textContent = say(again ? "counter.clock_look" : "counter.clock_over", { step: clock.step, time: clock.words });
    if (again) clock.looked = true;
    else clock.over = true;
  }

  function tick() {
    const running = clocks.filter((clock) => !clock.over && clock.held === null);
    for (const clock of running) if (Date.now() >= due(clock)) ring(clock, Date.now());
    for (const clock of clocks) {
      const held = clock.held !== null;
      const rings = clock.ringing > 0 && !held && Date.now() - clock.ringing < RING_FOR;
      clock.line.classList.toggle("ringing", rings || clock.over === true);
      clock.line.classList.toggle("held", held);
      clock.hold.hidden = clock.over;
      clock.hold.setAttribute("aria-label", say(held ? "counter.clock_go" : "counter.clock_hold", clock));
      clock.rest.textContent = clock.over
        ? say("counter.clock_over", { step: "", time: clock.words }).replace(/^\W+/, "")
        : say(held ? "counter.clock_held" : "counter.clock_left", { time: left(due(clock) - now(clock)) });
      if (rings) strike();
    }
    shelf.hidden = clocks.length === 0;
    // What is focused must not lie under the shelf.
    document.documentElement.style.scrollPaddingBlockEnd = clocks.length ? `${shelf.offsetHeight + 16}px` : "";
    const counting = clocks.filter((c) => !c.over && c.held === null);
    const next = Math.min(...counting.map((c) => due(c) - Date.now()));
    if (clocks.some((c) => c.over)) document.title = say("counter.clock_title_rings", { title });
    else if (!counting.length) document.title = title;
    else document.title = say("counter.clock_title", { n: counting.length, time: left(next), title });
    keep();
    if (clocks.length && beat === null) beat = setInterval(tick, 1000);
    if (!clocks.length && beat !== null) {
      clearInterval(beat);
      beat = null;
    }
  }

  for (const time of document.querySelectorAll(".step .body time[data-from]")) {
    const step = time.closest(".step");
    const name =
      step.querySelector("h3")?.textContent ?? say("counter.clock_step", { n: step.id.replace("step-", "") });
    const words = time.textContent;
    const made = button("", say("counter.ring", { time: words }), () => {
      listen();
      const now = Date.now();
      const clock = { step: name, words, looked: false, over: false, held: null, ringing: 0, from_button: made };
      clock.from = now + Number(time.dataset.from) * 1000;
      clock.to = now + Number(time.dataset.to) * 1000;
      clocks.push(clock);
      item(clock);
      tick();
    });
    made.className = "ring screen";
    const timed = document.createElement("span");
    timed.className = "timed";
    time.replaceWith(timed);
    timed.append(made, time);
  }

  try {
    for (const kept of JSON.parse(sessionStorage.getItem(place) ?? "[]")) {
      const clock = { held: null, ...kept, ringing: 0, from_button: null };
      clocks.push(clock);
      item(clock);
    }
  } catch {
    // Nothing was kept.
  }
  if (clocks.length) tick();
})();
