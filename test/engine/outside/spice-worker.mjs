/**
 * Runs net lists with eecircuit-engine and posts what they give: for each a record of figures by name, or the text of
 * its failure. The engine grows with every run, so whoever starts this worker ends it after a batch.
 */
import { parentPort, workerData } from 'node:worker_threads';
import { Simulation } from 'eecircuit-engine';

const simulation = new Simulation();
await simulation.start();
const answers = [];
for (const text of workerData) {
  try {
    simulation.setNetList(text);
    const { data } = await simulation.runSim();
    answers.push(Object.fromEntries(data.map(({ name, values }) => [name, values[0]])));
  } catch (error) {
    answers.push(String(error));
  }
}
parentPort.postMessage(answers);
