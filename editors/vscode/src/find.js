// Where a program is, as a shell would find it; apart from the editor, so that it can be
// tried without one.
const fs = require("node:fs");
const os = require("node:os");
const path = require("node:path");

/**
 * The whole path of a program, or undefined where there is none.
 * @param {string} name a name to look up on the PATH, or a path; ~ is the home folder
 */
function find(name, env = process.env, platform = process.platform) {
  name = name.replace(/^~(?=$|[\\/])/, os.homedir());
  const endings = platform === "win32" ? ["", ...(env.PATHEXT ?? ".EXE;.CMD;.BAT").split(";")] : [""];
  const folders = /[\\/]/.test(name) ? [""] : (env.PATH ?? env.Path ?? "").split(path.delimiter).filter(Boolean);
  for (const folder of folders) {
    for (const ending of endings) {
      const file = path.join(folder, name + ending);
      if (runs(file)) return file;
    }
  }
  return undefined;
}

function runs(file) {
  try {
    fs.accessSync(file, fs.constants.X_OK);
    return fs.statSync(file).isFile();
  } catch {
    return false;
  }
}

module.exports = { find };
