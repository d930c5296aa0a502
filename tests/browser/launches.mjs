// Launches for the sliders to be held against: other grips and releases by a changed sheet.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
const [flyheft, sheetPath] = process.argv.slice(2);
const sheet = readFileSync(sheetPath, "utf8");
const grip = Number(/^grip = ([\d.]+)/m.exec(sheet)[1]);
const release = Number(/^release_time = "([\d.]+) s"/m.exec(sheet)[1]);
const wanted = [];
for (const flywheel of ["as supplied", "machined"]) {
  for (const [g, r] of [[1, 1], [0.94, 1.2], [1.08, 0.7]]) {
    for (const rpm of [2090, 2480, 3330, 5000]) wanted.push({ flywheel, grip: g, release: r, rpm });
  }
}
const done = wanted.map(({ flywheel, grip: g, release: r, rpm }) => {
  writeFileSync("changed.toml", sheet
    .replace(/^grip = [\d.]+/m, `grip = ${grip * g}`)
    .replace(/^release_time = "[\d.]+ s"/m, `release_time = "${release * r} s"`));
  const said = JSON.parse(execFileSync(flyheft, ["launch", "changed.toml", "--wheel", flywheel, "--at", String(rpm), "--to", "60", "--json", "--quiet"], { encoding: "utf8" }));
  return { flywheel, grip: g, release: r, launch_rpm: rpm, sixty_foot_s: said.sixty_foot_s };
});
console.log(JSON.stringify(done));
