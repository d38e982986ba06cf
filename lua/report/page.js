// Figures and cross-sections of a report page. Reads the JSON in #data; texts enter by textContent only.
"use strict";
(function () {
  const NS = "http://www.w3.org/2000/svg";
  const MARKERS = [
    "M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0", "M-3.6 -3.6h7.2v7.2h-7.2z", "M0 -4.6L4.4 3.2H-4.4z", "M0 4.6L4.4 -3.2H-4.4z",
    "M0 -4.8L4.8 0L0 4.8L-4.8 0z", "M0 -4.5L4.3 -1.4L2.6 3.6H-2.6L-4.3 -1.4z", "M-4.4 -4.4L4.4 4.4M-4.4 4.4L4.4 -4.4",
    "M0 -5V5M-5 0H5"];

  function element(parent, name, attributes, text) {
    const svg = parent.namespaceURI === NS || name === "svg";
    const node = svg ? document.createElementNS(NS, name) : document.createElement(name);
    for (const key in attributes || {}) node.setAttribute(key, attributes[key]);
    if (text !== undefined) node.textContent = text;
    parent.appendChild(node);
    return node;
  }

  function number(x) {
    if (x === null || !isFinite(x)) return "-";
    const size = Math.abs(x);
    if (size !== 0 && (size < 1e-4 || size >= 1e7)) return x.toExponential(2).replace("-", "\u2212");
    return String(Number(x.toPrecision(4))).replace("-", "\u2212");
  }

  const withUnit = (axis) => axis.label + (axis.unit ? " / " + axis.unit : "");

  function ticks(low, high, log, most) {
    const list = [];
    if (log) {
      const first = Math.ceil(Math.log10(low) - 1e-9), last = Math.floor(Math.log10(high) + 1e-9);
      if (last - first >= 1) {
        const every = Math.ceil((last - first + 1) / most);
        for (let k = first; k <= last; k += every) list.push(Math.pow(10, k));
        if (list.length > 1) return list;
      }
    }
    const rough = (high - low) / most, power = Math.pow(10, Math.floor(Math.log10(rough)));
    const step = [1, 2, 2.5, 5, 10].map((f) => f * power).find((s) => s >= rough * 0.999);
    for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) list.push(Number((k * step).toPrecision(12)));
    return list;
  }

  // Limits over the visible lines; y only over the x in view.
  function limits(lines, key, log, within) {
    let low = Infinity, high = -Infinity;
    for (const line of lines) {
      line.x.forEach((x, i) => {
        if (within && !(x >= within[0] && x <= within[1])) return;
        for (const v of key === "x" ? [x] : [line.y && line.y[i], line.low && line.low[i], line.high && line.high[i]]) {
          if (typeof v !== "number" || (log && v <= 0)) continue;
          low = Math.min(low, v);
          high = Math.max(high, v);
        }
      });
      if (key === "y" && line.kind === "bars") low = Math.min(low, 0);
    }
    if (low > high) return log ? [1, 10] : [0, 1];
    if (low === high) return log ? [low / 2, high * 2] : [low - (Math.abs(low) * 0.05 || 1), high + (Math.abs(high) * 0.05 || 1)];
    return [low, high];
  }

  // ---- charts ---------------------------------------------------------------------------------------

  function chart(spec) {
    const host = document.getElementById(spec.id);
    const shown = spec.lines.map(() => true);
    const categories = spec.x.categories;
    const full = limits(spec.lines, "x", spec.x.log);
    if (spec.x.low !== undefined) full[0] = spec.x.low;
    if (spec.x.high !== undefined) full[1] = spec.x.high;
    if (categories) { full[0] = 0.4; full[1] = categories.length + 0.6; }
    let view = full.slice(), map = null, focus = null, drag = null;

    const legend = element(host, "div", { class: "bar", role: "group", "aria-label": "Lines, press to hide or show" });
    const frame = element(host, "svg", { tabindex: "0", role: "img" });
    const read = element(host, "p", { class: "read", role: "status", "aria-live": "polite" });
    const tools = element(host, "div", { class: "bar tools", role: "group", "aria-label": "Zoom" });
    frame.setAttribute("aria-label", spec.title + ". " + withUnit(spec.y) + " against " + withUnit(spec.x)
      + ". Arrow keys read values, plus and minus zoom. The numbers stand in the table below.");

    const look = (line) => ({ colour: "var(--c" + ((line.look - 1) % 8 + 1) + ")", marker: MARKERS[(line.look - 1) % 8] });
    const hollow = (line) => (line.look - 1) % 8 >= 6;

    function marker(parent, line, x, y, size) {
      const l = look(line);
      element(parent, "path", { d: l.marker, transform: "translate(" + x.toFixed(1) + " " + y.toFixed(1) + ") scale(" + size + ")",
        fill: hollow(line) ? "none" : l.colour, stroke: l.colour, "stroke-width": 1.6 });
    }

    if (spec.lines.length > 1) {
      spec.lines.forEach((line, k) => {
        const button = element(legend, "button", { type: "button", "aria-pressed": "true" });
        const key = element(button, "svg", { class: "key", width: 30, height: 12, viewBox: "0 0 30 12", "aria-hidden": "true" });
        if (line.kind !== "points") element(key, "path", { d: "M0 6H30", stroke: look(line).colour, "stroke-width": 3 });
        marker(key, line, 15, 6, 1);
        element(button, "span", {}, line.name || "line " + (k + 1));
        button.addEventListener("click", () => {
          shown[k] = !shown[k];
          button.setAttribute("aria-pressed", String(shown[k]));
          draw();
        });
      });
    }

    function path(line, beyond, first) {
      let d = "", pen = false;
      for (let i = 0; i < line.x.length; i++) {
        const out = line.out ? line.out[i] === 1 : false, y = line.y[i];
        const before = i > 0 && line.out ? line.out[i - 1] === 1 : out;
        const here = out === beyond || (before === beyond && i > 0);
        const good = typeof y === "number" && typeof line.x[i] === "number" && !(spec.y.log && y <= 0) && !(spec.x.log && line.x[i] <= 0);
        if (!good || !here) { pen = false; continue; }
        d += (pen ? "L" : "M") + map.x(line.x[i]).toFixed(1) + " " + map.y(y).toFixed(1);
        pen = out === beyond || first;
        if (out !== beyond) pen = false;
      }
      return d;
    }

    function draw() {
      while (frame.firstChild) frame.removeChild(frame.firstChild);
      const wide = Math.max(300, Math.round(host.clientWidth || 700)), small = wide < 520;
      const letter = small ? 13 : wide > 1000 ? 20 : 16;
      const high = Math.round(Math.min(560, Math.max(260, wide * 0.5)));
      const visible = spec.lines.filter((_, k) => shown[k]);
      const yl = limits(visible, "y", spec.y.log, view);
      if (spec.y.log) { yl[0] /= 1.15; yl[1] *= 1.15; } else {
        const pad = 0.05 * (yl[1] - yl[0]);
        yl[1] += pad;
        if (yl[0] !== 0) yl[0] = yl[0] > 0 && yl[0] - pad < 0 ? 0 : yl[0] - pad;
      }
      if (spec.y.low !== undefined) yl[0] = spec.y.low;
      if (spec.y.high !== undefined) yl[1] = spec.y.high;
      const yt = ticks(yl[0], yl[1], spec.y.log, small ? 4 : 6).map((v) => [v, number(v)]);
      const left = 14 + letter * 0.6 * Math.max(...yt.map((t) => t[1].length), 2), right = 14;
      const top = letter * 2.1, bottom = letter * 3.2;
      const scale = (lim, log, a, b) => log
        ? (v) => a + (b - a) * (Math.log(v) - Math.log(lim[0])) / (Math.log(lim[1]) - Math.log(lim[0]))
        : (v) => a + (b - a) * (v - lim[0]) / (lim[1] - lim[0]);
      map = { x: scale(view, spec.x.log, left, wide - right), y: scale(yl, spec.y.log, high - bottom, top),
        left: left, right: wide - right, top: top, bottom: high - bottom, wide: wide, letter: letter };
      map.back = (px) => {
        const share = (px - left) / (wide - right - left);
        return spec.x.log ? view[0] * Math.pow(view[1] / view[0], share) : view[0] + share * (view[1] - view[0]);
      };
      frame.setAttribute("viewBox", "0 0 " + wide + " " + high);
      const clip = spec.id + "-clip";
      const box = { x: left, y: top, width: wide - right - left, height: high - bottom - top };
      element(element(frame, "clipPath", { id: clip }), "rect", box);
      const words = (x, y, anchor, text, size) => element(frame, "text", { x: x, y: y, "text-anchor": anchor,
        "font-size": size || letter }, text);

      // grey ground where a line leaves the evidence
      let from = Infinity, to = -Infinity, inside = -Infinity, insideLow = Infinity;
      for (const line of visible) (line.out || []).forEach((o, i) => {
        if (o) { from = Math.min(from, line.x[i]); to = Math.max(to, line.x[i]); } else {
          inside = Math.max(inside, line.x[i]); insideLow = Math.min(insideLow, line.x[i]); }
      });
      const shade = (a, b) => {
        a = Math.max(left, map.x(a)); b = Math.min(wide - right, map.x(b));
        if (b > a) element(frame, "rect", { x: a, y: top, width: b - a, height: box.height, fill: "var(--beyond)" });
      };
      if (to > inside && from <= to) shade(Math.max(inside, from), to);
      if (from < insideLow) shade(from, insideLow);

      for (const t of yt) {
        const y = map.y(t[0]);
        element(frame, "path", { d: "M" + left + " " + y + "H" + (wide - right), stroke: "var(--grid)" });
        words(left - 6, y + letter * 0.35, "end", t[1]);
      }
      const xt = categories ? categories.map((c, i) => [i + 1, c])
        : ticks(view[0], view[1], spec.x.log, Math.max(3, Math.floor(wide / (letter * 6)))).map((v) => [v, number(v)]);
      for (const t of xt) {
        const x = map.x(t[0]);
        if (x < left - 1 || x > wide - right + 1) continue;
        element(frame, "path", { d: "M" + x + " " + (high - bottom) + "v5", stroke: "var(--ink)" });
        words(Math.min(x, wide - right - letter * 0.28 * t[1].length), high - bottom + letter * 1.25, "middle", t[1]);
      }
      element(frame, "path", { d: "M" + left + " " + top + "V" + (high - bottom) + "H" + (wide - right), fill: "none", stroke: "var(--ink)" });
      words(4, letter, "start", withUnit(spec.y));
      words(wide - right, high - letter * 0.5, "end", withUnit(spec.x));

      const body = element(frame, "g", { "clip-path": "url(#" + clip + ")" });
      for (const mark of spec.marks) {
        const dash = { stroke: "var(--quiet)", "stroke-width": 1.5, "stroke-dasharray": "2 4" };
        if (mark.y !== undefined && (!spec.y.log || mark.y > 0)) {
          const y = map.y(mark.y);
          element(body, "path", Object.assign({ d: "M" + left + " " + y + "H" + (wide - right) }, dash));
          element(body, "text", { x: left + 6, y: y - 5, "font-size": letter * 0.85 }, mark.text || "");
        } else if (mark.x !== undefined) {
          const x = map.x(mark.x), flip = x > left + box.width * 0.7;
          element(body, "path", Object.assign({ d: "M" + x + " " + top + "V" + (high - bottom) }, dash));
          element(body, "text", { x: flip ? x - 5 : x + 5, y: top + letter, "font-size": letter * 0.85,
            "text-anchor": flip ? "end" : "start" }, mark.text || "");
        }
      }
      const bars = visible.filter((l) => l.kind === "bars");
      visible.forEach((line) => {
        const l = look(line);
        if (line.low && line.kind === "band" || line.low && line.kind === "line") {
          let d = "", back = "";
          line.x.forEach((x, i) => {
            if (typeof line.low[i] !== "number" || typeof line.high[i] !== "number") return;
            d += (d ? "L" : "M") + map.x(x).toFixed(1) + " " + map.y(line.high[i]).toFixed(1);
            back = "L" + map.x(x).toFixed(1) + " " + map.y(line.low[i]).toFixed(1) + back;
          });
          element(body, "path", { d: d + back + "Z", fill: l.colour, "fill-opacity": 0.2 });
        }
        if (line.kind === "bars") {
          const step = Math.min(0.8, 0.8) / bars.length, at = bars.indexOf(line);
          line.x.forEach((x, i) => {
            const a = map.x(x - 0.4 + at * step), b = map.x(x - 0.4 + (at + 1) * step), y = map.y(line.y[i]);
            element(body, "rect", { x: a + 1, y: Math.min(y, map.y(0)), width: Math.max(1, b - a - 2), height: Math.abs(map.y(0) - y), fill: l.colour });
          });
        } else if (line.y && line.kind === "line") {
          const style = { fill: "none", stroke: l.colour, "stroke-width": wide > 1000 ? 3.5 : 2.4, "stroke-linejoin": "round" };
          element(body, "path", Object.assign({ d: path(line, false, true) }, style));
          if (line.out) element(body, "path", Object.assign({ d: path(line, true, true), "stroke-dasharray": "7 5" }, style));
          if (spec.lines.length > 1) {
            for (let k = 0; k < 5; k++) {
              const px = left + box.width * ((k + 0.35 + 0.3 * (line.look % 3)) / 5);
              const i = nearest(line, map.back(px));
              if (i >= 0 && Math.abs(map.x(line.x[i]) - px) < box.width / 8) marker(body, line, map.x(line.x[i]), map.y(line.y[i]), small ? 0.8 : 1.2);
            }
          }
        } else if (line.y && line.kind === "points") {
          line.x.forEach((x, i) => {
            if (typeof line.y[i] !== "number" || (spec.y.log && line.y[i] <= 0)) return;
            if (line.low) element(body, "path", { d: "M" + map.x(x) + " " + map.y(line.low[i]) + "V" + map.y(line.high[i]), stroke: l.colour, "stroke-width": 2 });
            marker(body, line, map.x(x), map.y(line.y[i]), 1.3);
          });
        }
      });
      pointer();
    }

    function nearest(line, x) {
      let best = -1;
      line.x.forEach((v, i) => {
        const y = line.y ? line.y[i] : line.high[i];
        if (typeof v !== "number" || typeof y !== "number" || (spec.y.log && y <= 0)) return;
        if (best < 0 || Math.abs(map.x(v) - map.x(x)) < Math.abs(map.x(line.x[best]) - map.x(x))) best = i;
      });
      return best;
    }

    // The guide line and the values at the x in focus.
    function pointer() {
      const old = frame.querySelector(".guide");
      if (old) old.remove();
      if (focus === null || !map) { read.textContent = ""; return; }
      const guide = element(frame, "g", { class: "guide" }), parts = [];
      let at = focus;
      spec.lines.forEach((line, k) => {
        if (!shown[k]) return;
        const i = nearest(line, focus);
        if (i < 0) return;
        if (!parts.length) at = line.x[i];
        const y = line.y ? line.y[i] : line.high[i];
        const range = line.low ? " (" + number(line.low[i]) + " to " + number(line.high[i]) + ")" : "";
        const out = line.out && line.out[i] ? ", outside the evidence" : "";
        parts.push((line.name ? line.name + ": " : "") + number(y) + (spec.y.unit ? " " + spec.y.unit : "") + range + out);
        const px = map.x(line.x[i]), py = map.y(y);
        if (px >= map.left - 1 && px <= map.right + 1) element(guide, "circle", { cx: px, cy: py, r: 6, fill: "none", stroke: look(line).colour, "stroke-width": 2.5 });
      });
      const x = map.x(at);
      element(guide, "path", { d: "M" + x + " " + map.top + "V" + map.bottom, stroke: "var(--quiet)", "stroke-width": 1 });
      const name = categories ? categories[at - 1] : number(at) + (spec.x.unit ? " " + spec.x.unit : "");
      read.textContent = (spec.x.label ? spec.x.label + " " : "") + name + " \u2192 " + parts.join("; ");
    }

    function zoom(low, high) {
      if (categories || !(high > low)) return;
      view = [Math.max(full[0], low), Math.min(full[1], high)];
      if (view[1] - view[0] < 1e-6 * (full[1] - full[0])) view = full.slice();
      draw();
    }
    function zoomBy(factor) {
      const middle = focus !== null && focus >= view[0] && focus <= view[1] ? focus : map.back((map.left + map.right) / 2);
      const a = map.x(view[0]), b = map.x(view[1]), m = map.x(middle);
      zoom(map.back(m - (m - a) * factor), map.back(m + (b - m) * factor));
    }
    function reset() { view = full.slice(); draw(); }

    const place = (event) => {
      const r = frame.getBoundingClientRect();
      return (event.clientX - r.left) * map.wide / r.width;
    };
    frame.addEventListener("pointerdown", (event) => { if (event.pointerType === "mouse") drag = place(event); });
    frame.addEventListener("pointermove", (event) => {
      const px = place(event);
      focus = map.back(Math.max(map.left, Math.min(map.right, px)));
      pointer();
      if (drag !== null && Math.abs(px - drag) > 4) element(frame.querySelector(".guide"), "rect", { x: Math.min(px, drag), y: map.top,
        width: Math.abs(px - drag), height: map.bottom - map.top, fill: "var(--focus)", "fill-opacity": 0.15 });
    });
    frame.addEventListener("pointerup", (event) => {
      const px = place(event), start = drag;
      drag = null;
      if (start !== null && Math.abs(px - start) > 12) zoom(map.back(Math.min(px, start)), map.back(Math.max(px, start)));
    });
    frame.addEventListener("pointerleave", () => { drag = null; if (document.activeElement !== frame) { focus = null; pointer(); } });
    frame.addEventListener("dblclick", reset);
    frame.addEventListener("keydown", (event) => {
      const line = spec.lines.find((_, k) => shown[k]);
      if (!line) return;
      let i = focus === null ? -1 : nearest(line, focus);
      const jump = event.shiftKey ? 10 : 1;
      if (event.key === "ArrowRight") i = Math.min(line.x.length - 1, i + jump);
      else if (event.key === "ArrowLeft") i = Math.max(0, i < 0 ? 0 : i - jump);
      else if (event.key === "Home") i = 0;
      else if (event.key === "End") i = line.x.length - 1;
      else if (event.key === "+") return zoomBy(0.5);
      else if (event.key === "-") return zoomBy(2);
      else if (event.key === "Escape") return reset();
      else return;
      event.preventDefault();
      focus = line.x[i];
      pointer();
    });
    const button = (text, action) => element(tools, "button", { type: "button" }, text).addEventListener("click", action);
    if (!categories) {
      button("Zoom in", () => zoomBy(0.5));
      button("Zoom out", () => zoomBy(2));
      button("All", reset);
    }
    draw();
    return draw;
  }

  // ---- cross-sections -------------------------------------------------------------------------------

  const PALE_TO_DARK = [[247, 244, 230], [199, 220, 214], [122, 180, 199], [58, 124, 170], [31, 66, 120], [16, 22, 56]];
  function colour(share) {
    const place = Math.max(0, Math.min(1, share)) * (PALE_TO_DARK.length - 1), i = Math.min(PALE_TO_DARK.length - 2, Math.floor(place));
    return "rgb(" + PALE_TO_DARK[i].map((c, k) => Math.round(c + (place - i) * (PALE_TO_DARK[i + 1][k] - c))).join(",") + ")";
  }

  function player(spec) {
    const host = document.getElementById(spec.id);
    const bar = element(host, "div", { class: "bar tools" });
    const play = element(bar, "button", { type: "button" }, "Play");
    const slider = element(bar, "input", { type: "range", min: 0, max: spec.frames.length - 1, value: 0, "aria-label": "Time of the cross-section" });
    const select = element(bar, "select", { "aria-label": "What the colours show" });
    spec.scales.forEach((s, k) => element(select, "option", { value: k }, s.label));
    if (spec.scales.length < 2) select.hidden = true;
    const read = element(host, "p", { class: "read", role: "status", "aria-live": "off" });
    const svg = element(host, "svg", { viewBox: "0 0 300 220", role: "img" });
    const largest = Math.max(...spec.frames.map((f) => f.radii[f.radii.length - 1]));
    let timer = null;

    function show() {
      const f = spec.frames[Number(slider.value)], k = Number(select.value) || 0, scale = spec.scales[k], values = f.values[k];
      while (svg.firstChild) svg.removeChild(svg.firstChild);
      for (let i = values.length - 1; i >= 0; i--) {
        const ring = element(svg, "circle", { cx: 106, cy: 110, r: 98 * f.radii[i] / largest,
          fill: values[i] === null ? "none" : colour((values[i] - scale.low) / (scale.high - scale.low)) });
        element(ring, "title", {}, number(values[i]) + " " + scale.unit);
      }
      element(svg, "circle", { cx: 106, cy: 110, r: 98 * f.radii[f.radii.length - 1] / largest, fill: "none", stroke: "var(--ink)" });
      for (let i = 0; i < 40; i++) element(svg, "rect", { x: 222, y: 20 + i * 4.5, width: 16, height: 5, fill: colour((39.5 - i) / 40) });
      for (const t of ticks(scale.low, scale.high, false, 4)) {
        element(svg, "text", { x: 244, y: 24 + 180 * (1 - (t - scale.low) / (scale.high - scale.low)), "font-size": 12 }, number(t));
      }
      element(svg, "text", { x: 292, y: 12, "font-size": 12, "text-anchor": "end" }, withUnit(scale));
      const words = f.caption + ": " + scale.label.toLowerCase() + " " + number(values[0]) + " " + scale.unit + " in the middle, "
        + number(values[values.length - 1]) + " " + scale.unit + " at the surface";
      read.textContent = words;
      svg.setAttribute("aria-label", spec.title + ", " + words);
      slider.setAttribute("aria-valuetext", words);
    }
    function stop() { clearInterval(timer); timer = null; play.textContent = "Play"; }
    play.addEventListener("click", () => {
      if (timer !== null) return stop();
      if (Number(slider.value) >= spec.frames.length - 1) slider.value = 0;
      play.textContent = "Pause";
      show();
      timer = setInterval(() => {
        slider.value = Number(slider.value) + 1;
        show();
        if (Number(slider.value) >= spec.frames.length - 1) stop();
      }, Math.max(100, 6000 / spec.frames.length));
    });
    slider.addEventListener("input", () => { stop(); show(); });
    select.addEventListener("change", show);
    show();
  }

  const redraw = [];
  for (const one of JSON.parse(document.getElementById("data").textContent)) {
    if (one.type === "chart") redraw.push(chart(one)); else player(one);
  }
  let waiting = null;
  addEventListener("resize", () => { clearTimeout(waiting); waiting = setTimeout(() => redraw.forEach((f) => f()), 120); });
  addEventListener("beforeprint", () => document.querySelectorAll("details").forEach((d) => { d.open = true; }));
})();
