export type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
export { defaultFleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
