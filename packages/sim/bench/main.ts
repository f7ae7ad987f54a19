import { expCost } from './exp-cost.ts';

console.log(`Math.exp: ${expCost().toFixed(2)} ns per call`);
