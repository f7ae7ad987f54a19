export { fates, fateWords } from '@two-thirds/sim/chart';
