// Prints what the format's own validator says of a .glb file, as JSON.
const { readFileSync } = require("node:fs");
const validator = require("gltf-validator");

validator
  .validateBytes(new Uint8Array(readFileSync(process.argv[2])), { maxIssues: 20 })
  .then(report => console.log(JSON.stringify(report)))
  .catch(fault => {
    console.error(fault);
    process.exit(1);
  });
