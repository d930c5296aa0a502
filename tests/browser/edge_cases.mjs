// A sheet that is hard on a page: markup in its words, eight flywheels, long names.
import { readFileSync } from "node:fs";
const sheet = readFileSync(process.argv[2], "utf8");
const more = ["a", "b", "c", "d", "e"].map((letter, nth) => `[[flywheel]]
name = "candidate ${letter} <img src=x onerror=alert(1)> with a name as long as a crank is heavy"
mass = "${(5 + 0.7 * nth).toFixed(1)} kg"
radius_of_gyration = "${98 + 2 * nth} mm"
`).join("\n");
console.log(sheet
  .replace(/^title = .*$/m, 'title = "<script>window.ran = true</script> & \\"quoted\\" (invented)"')
  .replace("[clutch]", `${more}\n[clutch]`));
