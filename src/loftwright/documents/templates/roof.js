"use strict";
(function () {
  // Everything shown is looked up between two stations of the tables; nothing is solved here.
  const data = JSON.parse(document.getElementById("tables").textContent);
  const slider = document.getElementById("opening");
  const said = document.getElementById("opening-said");
  const side = document.getElementById("side");
  const part = (name) => side.querySelectorAll('[data-part="' + name + '"]');

  function station(xs, x) {
    let i = 0;
    while (i < xs.length - 2 && xs[i + 1] <= x) { i += 1; }
    return [i, Math.min(Math.max((x - xs[i]) / (xs[i + 1] - xs[i]), 0), 1)];
  }
  const between = (ys, at) => ys[at[0]] + at[1] * (ys[at[0] + 1] - ys[at[0]]);
  const pose = (rows, at) => [0, 1, 2].map((k) => rows[at[0]][k] + at[1] * (rows[at[0] + 1][k] - rows[at[0]][k]));
  function moved(p, spot) {
    const c = Math.cos(p[2]), s = Math.sin(p[2]);
    return [p[0] + c * spot[0] - s * spot[1], p[1] + s * spot[0] + c * spot[1]];
  }
  const page = (spot) => [data.view[0] + data.view[2] * spot[0], data.view[1] - data.view[2] * spot[1]];
  const fixed = (v) => v.toFixed(3);
  function words(value) {
    const text = Math.abs(value).toFixed(data.decimals);
    return (value < 0 && Number(text) !== 0 ? "\u2212" : "") + text + " " + data.unit;
  }
  function line(el, a, b) {
    el.setAttribute("x1", fixed(a[0])); el.setAttribute("y1", fixed(a[1]));
    el.setAttribute("x2", fixed(b[0])); el.setAttribute("y2", fixed(b[1]));
  }
  function dot(el, a) { el.setAttribute("cx", fixed(a[0])); el.setAttribute("cy", fixed(a[1])); }

  function show() {
    const percent = Number(slider.value);
    const at = station(data.fraction, percent / 100);
    const poses = { van: [0, 0, 0] };
    for (const name of Object.keys(data.poses)) { poses[name] = pose(data.poses[name], at); }
    for (const name of Object.keys(poses)) {
      const p = poses[name], o = page(p);
      const how = "translate(" + fixed(o[0]) + " " + fixed(o[1]) + ") rotate(" + (-p[2] * 180 / Math.PI).toFixed(4) + ")";
      for (const wanted of [name, "pivot " + name]) {
        if (wanted !== "van") { part(wanted).forEach((g) => g.setAttribute("transform", how)); }
      }
    }
    if (data.handle) {
      const o = page(moved(poses.shell, data.handle));
      part("handle").forEach((g) => g.setAttribute("transform", "translate(" + fixed(o[0]) + " " + fixed(o[1]) + ")"));
    }
    data.springs.forEach((spring, i) => {
      const foot = moved(poses[spring.foot_on], spring.foot), head = moved(poses[spring.head_on], spring.head);
      const length = Math.hypot(head[0] - foot[0], head[1] - foot[1]);
      const tube = length > 0 ? Math.min(1, spring.tube / length) : 1;
      const t = 1 - tube;
      const joint = [foot[0] + t * (head[0] - foot[0]), foot[1] + t * (head[1] - foot[1])];
      part("spring " + i).forEach((g) => {
        const lines = g.querySelectorAll("line"), dots = g.querySelectorAll("circle");
        const ends = [[foot, joint], [joint, head]];
        line(lines[0], page(ends[0][0]), page(ends[0][1]));
        line(lines[1], page(ends[1][0]), page(ends[1][1]));
        dot(dots[0], page(foot)); dot(dots[1], page(head));
      });
    });
    const x = station(data.x, percent);
    for (const chart of data.charts) {
      for (const panel of chart.panels) {
        const mark = document.querySelector("#" + chart.id + ' [data-part="marker ' + panel.kind + '"]');
        mark.setAttribute("transform", "translate(" + fixed(panel.x0 + (panel.x1 - panel.x0) * percent / 100) + " 0)");
      }
    }
    data.curves.forEach((y, i) => { document.getElementById("value-" + i).textContent = words(between(y, x)); });
    const [unit, spoken, digits] = data.unit_of_opening;
    const far = between(data.opening, at).toFixed(digits);
    const text = Math.round(percent) + " % open, " + far + unit;
    said.textContent = text;
    slider.setAttribute("aria-valuetext", Math.round(percent) + " per cent open, " + far + spoken);
  }
  slider.addEventListener("input", show);
  document.querySelectorAll("[data-stop]").forEach((b) => b.addEventListener("click", () => {
    slider.value = b.getAttribute("data-stop");
    show();
  }));
  show();
})();
