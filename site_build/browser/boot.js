// The worker's first moment: its thread begins and takes files in while the rest of it comes, from the
// address that is its name, or out of its file.

import { intake } from "./intake.js";

intake().run(self.name || undefined);
