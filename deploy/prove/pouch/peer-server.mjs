// The peer's server: PouchDB behind its own HTTP door, in a folder given as the only argument.
import express from 'express';
import expressPouch from 'express-pouchdb';
import PouchDB from 'pouchdb';

const dir = process.argv[2];
const Kept = PouchDB.defaults({ prefix: `${dir}/` });
const app = express();
const files = { logPath: `${dir}/log.txt`, configPath: `${dir}/config.json` };
app.use('/db', expressPouch(Kept, { mode: 'minimumForPouchDB', ...files }));
const server = app.listen(0, '127.0.0.1', () => console.log(`port ${server.address().port}`));
