export { laneTitle } from '@two-thirds/sim/chart';
