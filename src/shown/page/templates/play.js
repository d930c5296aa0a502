"use strict";
(() => {
  const store = document.getElementById("play-data");
  if (!store) return;
  const data = JSON.parse(store.textContent);
  const byId = (id) => document.getElementById(id);
  const bytesOf = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const word = (bytes, at) => bytes[at] + 256 * bytes[at + 1];

  // Every line: launch speeds and times of its knots.
  const unpackLines = (text) => {
    const bytes = bytesOf(text), lines = [];
    for (let at = 0; at < bytes.length;) {
      const count = word(bytes, at), knots = [];
      for (let k = 0; k < count; k++) {
        knots.push({ rpm: word(bytes, at + 2 + 2 * k), time: word(bytes, at + 2 + 2 * (count + k)) });
      }
      lines.push(knots);
      at += 2 + 4 * count;
    }
    return lines;
  };
  for (const wheel of data.wheels) {
    wheel.knots = unpackLines(wheel.lines);
    wheel.bytes = bytesOf(wheel.traces);
  }

  const seconds = (knot) => knot.time === data.not_reached ? null : knot.time * data.time_step_s;
  const isCliff = (low, high) => {
    const a = seconds(low), b = seconds(high);
    return a === null || b === null
      || (high.rpm - low.rpm <= data.narrowest_rpm && Math.abs(a - b) > data.steep_s);
  };
  // What a line says of a launch speed: [time], [from, to] where a few rpm decide, or [] beside a
  // launch that did not get there.
  const timesAt = (line, rpm) => {
    let above = line.findIndex((knot) => knot.rpm >= rpm);
    if (above < 0) above = line.length - 1;
    const high = line[above], low = line[Math.max(0, above - 1)];
    const a = seconds(low), b = seconds(high);
    if (low.rpm === high.rpm || rpm >= high.rpm) return b === null ? [] : [b];
    if (a === null || b === null) return [];
    if (isCliff(low, high)) return [Math.min(a, b), Math.max(a, b)];
    const share = Math.max(0, (rpm - low.rpm) / (high.rpm - low.rpm));
    return [a * (1 - share) + b * share];
  };

  const nearest = (axis, value) => axis.reduce(
    (best, v, k) => (Math.abs(v - value) < Math.abs(axis[best] - value) - 1e-9 ? k : best), 0);
  const [toLock, toEnd] = data.samples, SAMPLES = toLock + toEnd, HEAD = 6, NODE = HEAD + SAMPLES + toLock;
  // Engine and input-shaft speed over time of the nearest launch computed, with what it was made with.
  const traceAt = (wheel, rpm, grip, release) => {
    const r = nearest(wheel.trace_releases, release), g = nearest(wheel.trace_grips, grip);
    const s = nearest(wheel.trace_speeds, rpm);
    const at = ((r * wheel.trace_grips.length + g) * wheel.trace_speeds.length + s) * NODE;
    const lock = word(wheel.bytes, at) / 1000, end = word(wheel.bytes, at + 2) / 1000;
    const speed = (k) => wheel.bytes[at + HEAD + k] * data.top_rpm / 255;
    const engine = Array.from({ length: SAMPLES }, (_, k) => [
      k < toLock ? lock * k / (toLock - 1) : lock + (end - lock) * (k - toLock) / (toEnd - 1), speed(k)]);
    const input = engine.slice(0, toLock).map(([time], k) => [time, speed(SAMPLES + k)]);
    return {
      end, engine, input, lowest: word(wheel.bytes, at + 4), rpm: wheel.trace_speeds[s],
      grip: wheel.trace_grips[g], release: wheel.trace_releases[r],
    };
  };

  const WIDTH = 340, HEIGHT = 210, LEFT = 44, RIGHT = 334, TOP = 8, BOTTOM = 180;
  const element = (name, attributes, text) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text !== undefined) made.textContent = text;
    return made;
  };
  const step = (span, about) => {
    const raw = span / about, power = 10 ** Math.floor(Math.log10(raw));
    return [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw);
  };
  const plot = (svg, [x0, x1], [y0, y1], [xUnit, yUnit], yDecimals, xDecimals) => {
    svg.replaceChildren();
    const x = (v) => LEFT + (RIGHT - LEFT) * (v - x0) / (x1 - x0);
    const y = (v) => BOTTOM - (BOTTOM - TOP) * (v - y0) / (y1 - y0);
    const ys = step(y1 - y0, 5), xs = step(x1 - x0, 5);
    for (let v = Math.ceil(y0 / ys) * ys; v <= y1 + 1e-9; v += ys) {
      svg.append(element("path", { class: "grid", d: `M${LEFT} ${y(v)}H${RIGHT}` }),
        element("text", { x: LEFT - 4, y: y(v) + 4, "text-anchor": "end" }, v.toFixed(yDecimals)));
    }
    for (let v = Math.ceil(x0 / xs) * xs; v <= x1 + 1e-9; v += xs) {
      svg.append(element("text", { x: x(v), y: BOTTOM + 14, "text-anchor": "middle" }, v.toFixed(xDecimals)));
    }
    svg.append(element("text", { x: RIGHT, y: HEIGHT - 2, "text-anchor": "end" }, xUnit),
      element("text", { x: 2, y: HEIGHT - 2 }, yUnit));
    return { x, y };
  };
  const path = (points) => points.map(([a, b], k) => `${k ? "L" : "M"}${a.toFixed(1)} ${b.toFixed(1)}`).join("");

  const longest = Math.min(5, Math.max(...data.wheels.flatMap((wheel) => {
    const ends = [];
    for (let at = 2; at < wheel.bytes.length; at += NODE) ends.push(word(wheel.bytes, at) / 1000);
    return ends;
  })));
  const drawTrace = (trace) => {
    const svg = byId("draw-trace");
    const { x, y } = plot(svg, [0, longest], [0, data.top_rpm], ["s from first bite", "rpm"], 0, 1);
    svg.append(element("path", { class: "thin", d: path(trace.input.map(([t, i]) => [x(t), y(i)])) }),
      element("path", { class: "main", d: path(trace.engine.map(([t, e]) => [x(t), y(e)])) }));
    return svg;
  };
  const drawLine = (wheel, line, rpm, time) => {
    const svg = byId("draw-line"), [low, high] = data.range_rpm;
    const times = line.map(seconds).filter((t) => t !== null);
    if (!times.length) { svg.replaceChildren(); return svg; }
    const least = Math.min(...times), most = Math.min(Math.max(...times), least + 0.6);
    const pad = Math.max(0.02, 0.08 * (most - least));
    const { x, y } = plot(svg, [low, high], [least - pad, most + pad], ["rpm", "s"], 2, 0);
    const [from, to] = wheel.window_rpm.map(x);
    svg.append(element("rect", { class: "span", x: from, y: BOTTOM - 6, width: Math.max(1, to - from), height: 6 }));
    let run = [];
    const runs = [run];
    line.forEach((knot, k) => {
      if (k && isCliff(line[k - 1], knot)) runs.push(run = []);
      const t = seconds(knot);
      if (t !== null && t <= most + pad) run.push([x(knot.rpm), y(t)]);
    });
    for (const piece of runs) if (piece.length > 1) svg.append(element("path", { class: "main", d: path(piece) }));
    if (time !== null && time <= most + pad) svg.append(element("circle", { class: "here", cx: x(rpm), cy: y(time), r: 6 }));
    return svg;
  };

  const select = byId("play-wheel"), speed = byId("play-speed"), grip = byId("play-grip"), release = byId("play-release");
  data.wheels.forEach((wheel, k) => select.append(new Option(wheel.name, k)));
  const one = (axis) => nearest(axis, 1);
  const gripWords = (grip) => {
    const off = Math.round((grip - 1) * 100);
    return off === 0 ? "as today" : `${Math.abs(off)} % ${off < 0 ? "less" : "more"}`;
  };
  const releaseWords = (release) => `${(data.release_s * release).toFixed(2)} s`;
  const say = (slider, text) => {
    slider.setAttribute("aria-valuetext", text);
    byId(slider.id.replace("play", "say")).textContent = text;
  };
  const show = () => {
    const wheel = data.wheels[select.value], rpm = Number(speed.value);
    const g = Number(grip.value), r = Number(release.value);
    const line = wheel.knots[r * data.grips.length + g], times = timesAt(line, rpm);
    const time = times.length === 1 ? times[0] : null;
    say(speed, `${rpm} rpm`);
    say(grip, gripWords(data.grips[g]));
    say(release, releaseWords(data.releases[r]));
    const trace = traceAt(wheel, rpm, data.grips[g], data.releases[r]);
    const least = Math.round(trace.lowest / 10) * 10;
    const drawn = `Drawn: the nearest launch computed beforehand, from ${trace.rpm} rpm, grip ${gripWords(trace.grip)}, clutch let out over ${releaseWords(trace.release)}; its engine falls to about ${least} rpm.`;
    const fixed = (t) => t.toFixed(3);
    const told = times.length ? `60 ft in ${times.map(fixed).join(" to ")} s` : "may stall";
    byId("play-time").textContent = told;
    const lost = time === null ? 0 : time - wheel.best_s;
    byId("play-more").textContent = times.length === 0
      ? "Here, or within a few rpm, the engine stalls."
      : time === null
        ? "Here a few rpm decide which."
        : `${fixed(Math.abs(lost))} s ${lost < 0 ? "quicker" : "slower"} than this flywheel's best launch today.`;
    byId("play-drawn").textContent = drawn;
    drawTrace(trace).setAttribute("aria-label", `Engine speed over time. ${drawn}`);
    drawLine(wheel, line, rpm, time).setAttribute("aria-label", `Sixty-foot time over launch speed; at ${rpm} rpm: ${told}.`);
  };
  const back = () => {
    const wheel = data.wheels[select.value];
    speed.value = Math.round(wheel.aim_rpm / 10) * 10;
    grip.value = one(data.grips);
    release.value = one(data.releases);
    show();
  };
  [speed.min, speed.max, speed.step] = [Math.ceil(data.range_rpm[0] / 10) * 10, Math.floor(data.range_rpm[1] / 10) * 10, 10];
  [grip.min, grip.max, grip.step] = [0, data.grips.length - 1, 1];
  [release.min, release.max, release.step] = [0, data.releases.length - 1, 1];
  select.value = data.start;
  for (const control of [select, speed, grip, release]) control.addEventListener("input", show);
  byId("play-back").addEventListener("click", back);
  byId("play").hidden = false;
  back();
})();
