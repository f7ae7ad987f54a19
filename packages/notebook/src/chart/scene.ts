export { type Scene, traceScene } from '@two-thirds/sim/chart';
