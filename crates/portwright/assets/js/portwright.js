// Everything that moves on the pages. Reading works without any of it.
import { moveDrawings } from "./moving.js";
import { readPlots } from "./readout.js";
import { takeDrops } from "./drop.js";
import { numberLines } from "./editor.js";
import { openForPaper } from "./paper.js";
import { drawSketches } from "./sketches.js";
import { saveFields } from "./fields.js";
import { workAtTheBench } from "./bench.js";
import { watchProgress } from "./progress.js";
import { sendLeftovers } from "./unsent.js";

document.documentElement.classList.add("scripted");
moveDrawings();
readPlots();
takeDrops();
numberLines();
openForPaper();
drawSketches();
saveFields();
workAtTheBench();
watchProgress();
sendLeftovers();
