// Lets micropip install the wheels from local files and freeze what it installed. A wheel that needs
// another which isn't there stops the build here, and not a reader's browser.

import { orders, readBytes, startPython, writeJson } from "./python.mjs";

const { pyodide, micropip, wheels, lock } = orders();
const python = await startPython({ pyodide });
python.unpackArchive(readBytes(micropip.path).buffer, "wheel");
python.FS.mkdirTree("/wheels");
for (const { name, path } of wheels) {
  python.FS.writeFile(`/wheels/${name}`, readBytes(path));
}
python.globals.set("names", python.toPy(wheels.map((wheel) => wheel.name)));
const frozen = await python.runPythonAsync(`
import micropip

async def install(names):
    """Those that could be installed now; a wheel whose needs aren't there yet waits its turn."""
    done, fault = [], None
    for name in names:
        try:
            await micropip.install(f"emfs:/wheels/{name}")
        except Exception as error:
            fault = error
        else:
            done.append(name)
    if not done:
        raise RuntimeError(f"cannot be installed together: {', '.join(names)}") from fault
    return done

while names:
    done = await install(names)
    names = [name for name in names if name not in done]
micropip.freeze()
`);
const packages = JSON.parse(frozen).packages;
const ours = Object.values(packages).filter((entry) => wheels.some((wheel) => entry.file_name.endsWith(wheel.name)));
writeJson(
  lock,
  ours
    .map((entry) => ({
      name: entry.name,
      version: entry.version,
      file_name: entry.file_name.split("/").pop(),
      sha256: entry.sha256,
      depends: [...entry.depends].sort(),
    }))
    .sort((a, b) => (a.name < b.name ? -1 : 1)),
);
