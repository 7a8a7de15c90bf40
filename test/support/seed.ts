/** Property tests draw the same samples in every run; COUPLET_SEED draws others, to search for what nobody thought of. */
import fc from 'fast-check';

const seed = Number(process.env.COUPLET_SEED ?? 20261124);
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed });
