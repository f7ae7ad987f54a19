export { type PlacedTick, timeAxis, valueAxis } from '@two-thirds/sim/chart';
