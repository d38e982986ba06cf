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
  function empty(node) { while (node.firstChild) node.removeChild(node.firstChild); }

  const usable = (v) => typeof v === "number" && isFinite(v);
  function number(x) {
    if (!usable(x)) return "-";
    const size = Math.abs(x);
    if (size !== 0 && (size < 1e-4 || size >= 1e7)) return x.toExponential(2).replace("-", "\u2212");
    return String(Number(x.toPrecision(4))).replace("-", "\u2212");
  }
  const withUnit = (axis) => axis.label && axis.unit ? axis.label + " (" + axis.unit + ")" : axis.label || axis.unit;

  function ticks(low, high, log, most) {
    const list = [], add = (t) => list.push(Number(t.toPrecision(12)));
    if (log) {
      const first = Math.floor(Math.log10(low)), last = Math.floor(Math.log10(high) + 1e-9), decades = Math.log10(high / low);
      const factors = 3 * decades <= most ? [1, 2, 5] : [1], every = Math.max(1, Math.ceil(decades / most));
      for (let k = first; k <= last; k += every)
        for (const f of factors) {
          const t = f * Math.pow(10, k);
          if (t >= low * (1 - 1e-9) && t <= high * (1 + 1e-9)) add(t);
        }
      if (list.length > 1) return list;
      list.length = 0;
    }
    const rough = (high - low) / most, power = Math.pow(10, Math.floor(Math.log10(rough)));
    const step = [1, 2, 2.5, 5, 10].map((f) => (f === 2.5 && power < 10 ? 2 : f) * power).find((s, i) => [1, 2, 2.5, 5, 10][i] * power >= rough * 0.999);
    for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) add(k * step);
    return list;
  }

  // Ticks with the words beside them: as many decimals each, where the axis is linear.
  function named(list, log) {
    const words = list.map(number);
    if (log || words.some((w) => w.includes("e"))) return list.map((v, i) => [v, words[i]]);
    const decimals = Math.max(0, ...words.map((w) => (w.split(".")[1] || "").length));
    return list.map((v) => [v, (v || 0).toFixed(decimals).replace("-", "\u2212")]);
  }

  // Limits over lines; of y only where x is in view.
  function limits(lines, key, log, within) {
    let low = Infinity, high = -Infinity;
    for (const line of lines) {
      line.x.forEach((x, i) => {
        if (within && !(x >= within[0] && x <= within[1])) return;
        for (const v of key === "x" ? [x] : [line.y && line.y[i], line.low && line.low[i], line.high && line.high[i]]) {
          if (!usable(v) || (log && v <= 0)) continue;
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

  function scale(lim, log, a, b) {
    return log ? (v) => a + (b - a) * (Math.log(v) - Math.log(lim[0])) / (Math.log(lim[1]) - Math.log(lim[0]))
      : (v) => a + (b - a) * (v - lim[0]) / (lim[1] - lim[0]);
  }

  const look = (line) => ({ colour: "var(--c" + ((line.look - 1) % 8 + 1) + ")", marker: MARKERS[(line.look - 1) % 8],
    open: (line.look - 1) % 8 >= 6 });
  function marker(parent, line, x, y, size) {
    const l = look(line);
    element(parent, "path", { d: l.marker, transform: "translate(" + x.toFixed(1) + " " + y.toFixed(1) + ") scale(" + size + ")",
      fill: l.open ? "none" : l.colour, stroke: l.colour, "stroke-width": 1.6 });
  }
  function key(parent, line) {
    const svg = element(parent, "svg", { class: "key", width: 30, height: 12, viewBox: "0 0 30 12", "aria-hidden": "true" });
    if (line.kind === "bars" || line.kind === "band") {
      element(svg, "rect", { x: 2, y: 1, width: 26, height: 10, fill: look(line).colour, "fill-opacity": line.kind === "band" ? 0.3 : 1 });
    } else {
      if (line.kind === "line") element(svg, "path", { d: "M0 6H30", stroke: look(line).colour, "stroke-width": 3 });
      marker(svg, line, 15, 6, 1);
    }
  }

  // ---- charts ---------------------------------------------------------------------------------------

  function chart(spec) {
    const host = document.getElementById(spec.id);
    const shown = spec.lines.map(() => true), categories = spec.x.categories, log = spec.y.log;
    const full = limits(spec.lines, "x", spec.x.log);
    if (spec.x.low !== undefined) full[0] = spec.x.low;
    if (spec.x.high !== undefined) full[1] = spec.x.high;
    if (categories) { full[0] = 0.4; full[1] = categories.length + 0.6; }
    let view = full.slice(), map = null, focus = null, drag = null;

    const legend = element(host, "div", { class: "bar", role: "group", "aria-label": "Lines, press to hide or show" });
    element(host, "p", { class: "axis" }, withUnit(spec.y));
    const frame = element(host, "svg", { tabindex: "0", role: "slider", "aria-valuemin": full[0], "aria-valuemax": full[1],
      "aria-valuenow": full[0], "aria-valuetext": "nothing read yet", "aria-label": spec.title + ". " + withUnit(spec.y) + " against "
      + withUnit(spec.x) + ". Arrow keys read values, plus and minus zoom. The numbers stand in the table below." });
    const read = element(host, "p", { class: "read" });
    const tools = element(host, "div", { class: "bar tools", role: "group", "aria-label": "Zoom" });

    if (spec.lines.length > 1) spec.lines.forEach((line, k) => {
      const button = element(legend, "button", { type: "button", "aria-pressed": "true" });
      key(button, line);
      element(button, "span", {}, line.name || "line " + (k + 1));
      button.addEventListener("click", () => {
        shown[k] = !shown[k];
        button.setAttribute("aria-pressed", String(shown[k]));
        draw();
      });
    });

    const at = (line, i) => line.y ? line.y[i] : line.high[i];
    const drawable = (line, i) => usable(line.x[i]) && usable(at(line, i)) && !(log && at(line, i) <= 0) && !(spec.x.log && line.x[i] <= 0);

    // Path of the pieces inside the evidence, or of those beyond it.
    function path(line, beyond) {
      let d = "", end = -1;
      for (let i = 1; i < line.x.length; i++) {
        const out = line.out ? line.out[i] === 1 || line.out[i - 1] === 1 : false;
        if (out !== beyond || !drawable(line, i) || !drawable(line, i - 1)) continue;
        if (end !== i - 1) d += "M" + map.x(line.x[i - 1]).toFixed(1) + " " + map.y(line.y[i - 1]).toFixed(1);
        d += "L" + map.x(line.x[i]).toFixed(1) + " " + map.y(line.y[i]).toFixed(1);
        end = i;
      }
      return d;
    }

    function nearest(line, x) {
      let best = -1;
      line.x.forEach((v, i) => {
        if (drawable(line, i) && (best < 0 || Math.abs(map.x(v) - map.x(x)) < Math.abs(map.x(line.x[best]) - map.x(x)))) best = i;
      });
      return best;
    }

    function lay_out(visible) {
      const wide = Math.max(280, Math.round(host.clientWidth || 700));
      const letter = 0.9 * parseFloat(getComputedStyle(host).fontSize);
      const high = Math.round(Math.max(15 * letter, Math.min(0.45 * wide, 0.65 * innerHeight)));
      const yl = limits(visible, "y", log, view);
      if (log) { yl[0] /= 1.15; yl[1] *= 1.15; } else {
        const pad = 0.05 * (yl[1] - yl[0]), bars = visible.some((l) => l.kind === "bars");
        if (!(bars && yl[0] === 0) && !(yl[0] >= 0 && yl[0] < pad)) yl[0] -= pad; else yl[0] = Math.min(yl[0], 0);
        yl[1] += pad;
      }
      if (spec.y.low !== undefined) yl[0] = spec.y.low;
      if (spec.y.high !== undefined) yl[1] = spec.y.high;
      const yt = named(ticks(yl[0], yl[1], log, Math.max(3, Math.floor(high / (letter * 3.5)))), log);
      const left = letter * (0.9 + 0.6 * Math.max(...yt.map((t) => t[1].length), 2)), right = 0.8 * letter;
      const top = letter * 0.7, bottom = letter * 3.3;
      map = { x: scale(view, spec.x.log, left, wide - right), y: scale(yl, log, high - bottom, top), left: left, right: wide - right,
        top: top, bottom: high - bottom, wide: wide, high: high, letter: letter, yt: yt,
        xt: categories ? categories.map((c, i) => [i + 1, c])
          : named(ticks(view[0], view[1], spec.x.log, Math.max(3, Math.floor(wide / (letter * 4.5)))), spec.x.log) };
      map.back = (px) => {
        const share = (px - left) / (wide - right - left);
        return spec.x.log ? view[0] * Math.pow(view[1] / view[0], share) : view[0] + share * (view[1] - view[0]);
      };
    }

    // Grey ground where every line has left the evidence.
    function ground(visible) {
      let from = Infinity, to = -Infinity, low = Infinity, high = -Infinity;
      for (const line of visible) (line.out || []).forEach((out, i) => {
        if (out) { from = Math.min(from, line.x[i]); to = Math.max(to, line.x[i]); } else { low = Math.min(low, line.x[i]); high = Math.max(high, line.x[i]); }
      });
      const shade = (a, b) => {
        a = Math.max(map.left, map.x(a));
        b = Math.min(map.right, map.x(b));
        if (b > a) element(frame, "rect", { x: a, y: map.top, width: b - a, height: map.bottom - map.top, fill: "var(--beyond)" });
      };
      if (from > to) return;
      if (low > high) return shade(from, to);
      if (to > high) shade(Math.max(high, from), to);
      if (from < low) shade(from, Math.min(low, to));
    }

    function axes() {
      const words = (x, y, anchor, text) => text && element(frame, "text", { x: x, y: y, "text-anchor": anchor, "font-size": map.letter }, text);
      for (const t of map.yt) {
        const y = map.y(t[0]);
        element(frame, "path", { d: "M" + map.left + " " + y + "H" + map.right, stroke: "var(--grid)" });
        words(map.left - 6, y + map.letter * 0.35, "end", t[1]);
      }
      for (const t of map.xt) {
        const x = map.x(t[0]), half = map.letter * 0.3 * t[1].length;
        if (x < map.left - 1 || x > map.right + 1) continue;
        element(frame, "path", { d: "M" + x + " " + map.bottom + "v5", stroke: "var(--ink)" });
        words(categories ? x : Math.min(x, map.wide - half - 2), map.bottom + map.letter * 1.4, "middle", t[1]);
      }
      element(frame, "path", { d: "M" + map.left + " " + map.top + "V" + map.bottom + "H" + map.right, fill: "none", stroke: "var(--ink)" });
      words(map.right, map.high - map.letter * 0.5, "end", withUnit(spec.x));
    }

    // Does a visible line pass through this box?
    function crossed(visible, a, b, above, below) {
      return visible.some((line) => line.kind !== "bars" && line.x.some((x, i) => {
        if (!drawable(line, i) || map.x(x) > b + 4) return false;
        const next = i + 1 < line.x.length && drawable(line, i + 1) ? i + 1 : i;
        if (map.x(line.x[next]) < a - 4) return false;
        const y = [map.y(at(line, i)), map.y(at(line, next))];
        return Math.max(...y) > above && Math.min(...y) < below;
      }));
    }

    function marks(body, visible) {
      const dash = { stroke: "var(--quiet)", "stroke-width": 1.5, "stroke-dasharray": "2 4" }, size = map.letter * 0.9;
      for (const mark of spec.marks) {
        if (usable(mark.y) && (!log || mark.y > 0)) {
          const y = map.y(mark.y);
          element(body, "path", Object.assign({ d: "M" + map.left + " " + y + "H" + map.right }, dash));
          const wide = 0.6 * size * (mark.text || "").length, box = (a) => crossed(visible, a, a + wide, y - 5 - size, y - 2);
          const right = box(map.left + 6) && !box(map.right - wide - 6);
          element(body, "text", { x: right ? map.right - 6 : map.left + 6, y: y - 5, "font-size": size,
            "text-anchor": right ? "end" : "start", class: "mark" }, mark.text || "");
        } else if (usable(mark.x)) {
          const x = map.x(mark.x), flip = x > map.left + (map.right - map.left) * 0.7;
          element(body, "path", Object.assign({ d: "M" + x + " " + map.top + "V" + map.bottom }, dash));
          element(body, "text", { x: flip ? x - 5 : x + 5, y: map.top + map.letter, "font-size": size, "text-anchor": flip ? "end" : "start", class: "mark" }, mark.text || "");
        }
      }
    }

    const stretch = (line, i) => "M" + map.x(line.x[i]).toFixed(1) + " " + map.y(line.low[i]).toFixed(1) + "V" + map.y(line.high[i]).toFixed(1);
    const drawing = {
      band: function (body, line) {
        let d = "", back = "";
        line.x.forEach((x, i) => {
          if (!usable(line.low[i]) || !usable(line.high[i]) || (log && line.low[i] <= 0)) return;
          d += (d ? "L" : "M") + map.x(x).toFixed(1) + " " + map.y(line.high[i]).toFixed(1);
          back = "L" + map.x(x).toFixed(1) + " " + map.y(line.low[i]).toFixed(1) + back;
        });
        if (d) element(body, "path", { d: d + back + "Z", fill: look(line).colour, "fill-opacity": 0.2 });
      },
      line: function (body, line) {
        if (line.low) drawing.band(body, line);
        const style = { fill: "none", stroke: look(line).colour, "stroke-width": 0.15 * map.letter, "stroke-linejoin": "round" };
        element(body, "path", Object.assign({ d: path(line, false) }, style));
        if (line.out) element(body, "path", Object.assign({ d: path(line, true), "stroke-dasharray": "7 5" }, style));
        if (spec.lines.length < 2) return;
        const span = map.right - map.left;
        for (let k = 0; k < 5; k++) {
          const px = map.left + span * (k + 0.35 + 0.3 * (line.look % 3)) / 5, i = nearest(line, map.back(px));
          if (i >= 0 && Math.abs(map.x(line.x[i]) - px) < span / 8) marker(body, line, map.x(line.x[i]), map.y(line.y[i]), map.letter / 15);
        }
      },
      points: function (body, line) {
        line.x.forEach((x, i) => {
          if (!drawable(line, i)) return;
          if (line.low && usable(line.low[i]) && usable(line.high[i]) && !(log && line.low[i] <= 0))
            element(body, "path", { d: stretch(line, i), stroke: look(line).colour, "stroke-width": 2 });
          marker(body, line, map.x(x), map.y(line.y[i]), map.letter / 13);
        });
      },
      bars: function (body, line, bars) {
        const step = 0.8 / bars.length, place = bars.indexOf(line);
        line.x.forEach((x, i) => {
          if (!usable(line.y[i])) return;
          const a = map.x(x - 0.4 + place * step), b = map.x(x - 0.4 + (place + 1) * step), y = map.y(line.y[i]), zero = map.y(0);
          element(body, "rect", { x: a + 1, y: Math.min(y, zero), width: Math.max(1, b - a - 2), height: Math.abs(zero - y), fill: look(line).colour });
          if (line.low) element(body, "path", { d: stretch({ x: [x - 0.4 + (place + 0.5) * step], low: [line.low[i]], high: [line.high[i]] }, 0),
            stroke: "var(--ink)", "stroke-width": 2 });
        });
      }
    };

    function draw() {
      empty(frame);
      const visible = spec.lines.filter((_, k) => shown[k]);
      lay_out(visible);
      frame.setAttribute("viewBox", "0 0 " + map.wide + " " + map.high);
      element(element(frame, "clipPath", { id: spec.id + "-clip" }), "rect",
        { x: map.left, y: map.top - 6, width: map.right - map.left + 6, height: map.bottom - map.top + 7 });
      ground(visible);
      axes();
      const body = element(frame, "g", { "clip-path": "url(#" + spec.id + "-clip)" }), bars = visible.filter((l) => l.kind === "bars");
      marks(body, visible);
      visible.forEach((line) => drawing[line.kind](body, line, bars));
      pointer();
    }

    // The guide line and the values at the x in focus.
    function pointer() {
      const old = frame.querySelector(".guide");
      if (old) old.remove();
      empty(read);
      if (focus === null) {
        element(read, "span", { class: "hint" }, "Point at the figure, or press the arrow keys in it, to read values.");
        return;
      }
      const guide = element(frame, "g", { class: "guide" }), found = [];
      spec.lines.forEach((line, k) => {
        const i = shown[k] ? nearest(line, focus) : -1;
        if (i >= 0) found.push([line, i]);
      });
      if (!found.length) return;
      const x = found[0][0].x[found[0][1]], px = map.x(x);
      if (px >= map.left - 1 && px <= map.right + 1)
        element(guide, "path", { d: "M" + px + " " + map.top + "V" + map.bottom, stroke: "var(--quiet)", "stroke-width": 1 });
      const where = (spec.x.label ? spec.x.label + " " : "") + (categories ? categories[x - 1] : number(x) + (spec.x.unit ? " " + spec.x.unit : ""));
      element(read, "strong", {}, where);
      const said = found.map(([line, i]) => {
        const near = map.x(line.x[i]), bounds = line.low ? " (" + number(line.low[i]) + " to " + number(line.high[i]) + ")" : "";
        const value = number(at(line, i)) + (spec.y.unit ? " " + spec.y.unit : "") + bounds
          + (line.out && line.out[i] === 1 ? ", outside the evidence" : "");
        if (near >= map.left - 1 && near <= map.right + 1 && line.kind !== "bars")
          element(guide, "circle", { cx: near, cy: map.y(at(line, i)), r: 0.4 * map.letter, fill: "none", stroke: look(line).colour, "stroke-width": 2.5 });
        const span = element(read, "span", { class: "value" });
        if (spec.lines.length > 1) key(span, line);
        element(span, "span", {}, (line.name ? line.name + " " : "") + value);
        return (line.name ? line.name + ": " : "") + value;
      });
      frame.setAttribute("aria-valuenow", x);
      frame.setAttribute("aria-valuetext", where + ": " + said.join("; "));
    }

    function look_at(low, high) {
      if (categories || !(high > low)) return;
      view = [Math.max(full[0], low), Math.min(full[1], high)];
      if (view[1] - view[0] < 1e-6 * (full[1] - full[0])) view = full.slice();
      draw();
    }
    function zoom(factor) {
      const inside = focus !== null && focus >= view[0] && focus <= view[1], m = inside ? map.x(focus) : (map.left + map.right) / 2;
      look_at(map.back(m - (m - map.left) * factor), map.back(m + (map.right - m) * factor));
    }
    function shift(share) {
      const by = share * (map.right - map.left), low = map.back(map.left + by), high = map.back(map.right + by);
      if (low >= full[0] && high <= full[1]) look_at(low, high);
      else if (share < 0) look_at(full[0], map.back(map.right + map.x(full[0]) - map.left));
      else look_at(map.back(map.left + map.x(full[1]) - map.right), full[1]);
    }
    function all() { view = full.slice(); draw(); }

    const place = (event) => {
      const r = frame.getBoundingClientRect();
      return (event.clientX - r.left) * map.wide / r.width;
    };
    frame.addEventListener("pointerdown", (event) => { if (event.pointerType === "mouse") drag = place(event); });
    frame.addEventListener("pointermove", (event) => {
      const px = place(event);
      focus = map.back(Math.max(map.left, Math.min(map.right, px)));
      pointer();
      const guide = frame.querySelector(".guide");
      if (drag !== null && guide && Math.abs(px - drag) > 4) element(guide, "rect", { x: Math.min(px, drag), y: map.top,
        width: Math.abs(px - drag), height: map.bottom - map.top, fill: "var(--focus)", "fill-opacity": 0.15 });
    });
    frame.addEventListener("pointerup", (event) => {
      const px = place(event), start = drag;
      drag = null;
      if (start !== null && Math.abs(px - start) > 12) look_at(map.back(Math.min(px, start)), map.back(Math.max(px, start)));
    });
    frame.addEventListener("pointerleave", () => { drag = null; if (document.activeElement !== frame) { focus = null; pointer(); } });
    frame.addEventListener("dblclick", all);
    frame.addEventListener("keydown", (event) => {
      const line = spec.lines.find((_, k) => shown[k]);
      if (!line || event.ctrlKey || event.metaKey || event.altKey) return;
      let i = focus === null ? -1 : nearest(line, focus);
      const last = line.x.length - 1, jump = event.shiftKey ? 10 : 1;
      if (event.key === "ArrowRight" || event.key === "ArrowUp") i = Math.min(last, i + jump);
      else if (event.key === "ArrowLeft" || event.key === "ArrowDown") i = Math.max(0, i - jump);
      else if (event.key === "Home") i = 0;
      else if (event.key === "End") i = last;
      else if (event.key === "+" || event.key === "=") return zoom(0.5);
      else if (event.key === "-") return zoom(2);
      else if (event.key === "Escape") return all();
      else return;
      event.preventDefault();
      focus = line.x[i];
      if (focus < view[0] || focus > view[1]) shift((map.x(focus) - (map.left + map.right) / 2) / (map.right - map.left));
      pointer();
    });
    const button = (text, words, action) => element(tools, "button", { type: "button", "aria-label": words }, text).addEventListener("click", action);
    if (!categories) {
      button("Zoom in", "Zoom in", () => zoom(0.5));
      button("Zoom out", "Zoom out", () => zoom(2));
      button("\u2190", "Move left", () => shift(-0.4));
      button("\u2192", "Move right", () => shift(0.4));
      button("All", "Show all", all);
    }
    draw();
    return draw;
  }

  // ---- bars that lie, each with its name and its value ------------------------------------------------

  function lying(spec) {
    const host = document.getElementById(spec.id), shown = spec.lines.map(() => true);
    const legend = element(host, "div", { class: "bar", role: "group", "aria-label": "Bars, press to hide or show" });
    if (withUnit(spec.y)) element(host, "p", { class: "axis" }, withUnit(spec.y));
    const list = element(host, "div", { class: "lie", role: "list" });
    const top = limits(spec.lines, "y", false)[1];
    if (spec.lines.length > 1) spec.lines.forEach((line, k) => {
      const button = element(legend, "button", { type: "button", "aria-pressed": "true" });
      key(button, line);
      element(button, "span", {}, line.name || "bars " + (k + 1));
      button.addEventListener("click", () => {
        shown[k] = !shown[k];
        button.setAttribute("aria-pressed", String(shown[k]));
        draw();
      });
    });
    const share = (v) => Math.max(0, Math.min(100, 84 * v / top)).toFixed(2) + "%";
    function draw() {
      empty(list);
      spec.x.categories.forEach((name, c) => {
        const row = element(list, "div", { role: "listitem" });
        element(row, "span", { class: "name" }, name);
        const bars = element(row, "div", { class: "bars" });
        spec.lines.forEach((line, k) => {
          const i = line.x.findIndex((x) => Math.round(x) === c + 1);
          if (!shown[k] || i < 0) return;
          const ranged = line.low && usable(line.low[i]) && usable(line.high[i]), track = element(bars, "div", {});
          element(track, "i", { style: "width:" + share(line.y[i]) + ";background:" + look(line).colour, "aria-hidden": "true" });
          if (ranged) element(track, "b", { style: "left:" + share(line.low[i]) + ";right:calc(100% - " + share(line.high[i]) + ")", "aria-hidden": "true" });
          element(track, "span", { style: "left:" + share(ranged ? Math.max(line.high[i], line.y[i]) : line.y[i]),
            title: ranged ? number(line.low[i]) + " to " + number(line.high[i]) : "" }, number(Number(line.y[i].toPrecision(2))));
        });
      });
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

  function disc(svg, frame, k, range, largest, cx, cy, size) {
    const values = frame.values[k], last = frame.radii[frame.radii.length - 1];
    for (let i = values.length - 1; i >= 0; i--) {
      const ring = element(svg, "circle", { cx: cx, cy: cy, r: size * frame.radii[i] / largest,
        fill: usable(values[i]) ? colour((values[i] - range.low) / (range.high - range.low)) : "none" });
      element(ring, "title", {}, number(values[i]) + " " + range.unit);
    }
    element(svg, "circle", { cx: cx, cy: cy, r: size * last / largest, fill: "none", stroke: "var(--ink)" });
  }

  function player(spec) {
    const host = document.getElementById(spec.id), frames = spec.frames;
    const bar = element(host, "div", { class: "bar tools" });
    const play = element(bar, "button", { type: "button" }, "Play");
    const slider = element(bar, "input", { type: "range", min: 0, max: frames.length - 1, value: 0, "aria-label": "Time of the cross-section" });
    const select = element(bar, "select", { "aria-label": "What the colours show" });
    spec.scales.forEach((s, k) => element(select, "option", { value: k }, s.label));
    if (spec.scales.length < 2) select.hidden = true;
    const read = element(host, "p", { class: "read" });
    const svg = element(host, "svg", { viewBox: "0 0 300 220", role: "img" });
    const strip = element(host, "div", { class: "strip", "aria-hidden": "true" });
    const largest = Math.max(...frames.map((f) => f.radii[f.radii.length - 1]));
    let timer = null;

    function show() {
      const f = frames[Number(slider.value)], k = Number(select.value) || 0, range = spec.scales[k], values = f.values[k];
      empty(svg);
      disc(svg, f, k, range, largest, 106, 116, 98);
      for (let i = 0; i < 40; i++) element(svg, "rect", { x: 222, y: 26 + i * 4.5, width: 16, height: 5, fill: colour((39.5 - i) / 40) });
      for (const t of ticks(range.low, range.high, false, 4))
        element(svg, "text", { x: 244, y: 30 + 180 * (1 - (t - range.low) / (range.high - range.low)), "font-size": 12 }, number(t));
      element(svg, "text", { x: 298, y: 13, "font-size": 12, "text-anchor": "end" }, withUnit(range));
      const unit = range.unit ? " " + range.unit : "";
      const words = f.caption + ": " + range.label.toLowerCase() + " " + number(values[0]) + unit + " in the middle, "
        + number(values[values.length - 1]) + unit + " at the surface";
      read.textContent = words;
      svg.setAttribute("aria-label", spec.title + ", " + words);
      slider.setAttribute("aria-valuetext", words);
    }
    // On paper, where nothing plays: up to six frames in a row.
    function in_a_row() {
      const k = Number(select.value) || 0, count = Math.min(6, frames.length);
      empty(strip);
      for (let i = 0; i < count; i++) {
        const f = frames[count > 1 ? Math.round(i * (frames.length - 1) / (count - 1)) : 0], one = element(strip, "div", {});
        disc(element(one, "svg", { viewBox: "0 0 100 100" }), f, k, spec.scales[k], largest, 50, 50, 48);
        element(one, "p", {}, f.caption);
      }
    }
    function stop() { clearInterval(timer); timer = null; play.textContent = "Play"; }
    play.addEventListener("click", () => {
      if (timer !== null) return stop();
      if (Number(slider.value) >= frames.length - 1) slider.value = 0;
      play.textContent = "Pause";
      show();
      timer = setInterval(() => {
        slider.value = Number(slider.value) + 1;
        show();
        if (Number(slider.value) >= frames.length - 1) stop();
      }, Math.max(100, 6000 / frames.length));
    });
    slider.addEventListener("input", () => { stop(); show(); });
    select.addEventListener("change", () => { show(); in_a_row(); });
    show();
    in_a_row();
  }

  const redraw = [];
  for (const one of JSON.parse(document.getElementById("data").textContent)) {
    if (one.type === "chart") redraw.push(one.lying ? lying(one) : chart(one)); else player(one);
  }
  let waiting = null;
  addEventListener("resize", () => { clearTimeout(waiting); waiting = setTimeout(() => redraw.forEach((f) => f()), 120); });
})();
