export { linearScale, pixel, type Scale } from '@two-thirds/sim/chart';
