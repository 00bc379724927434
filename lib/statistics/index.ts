export * from '@/lib/statistics/mann-kendall';
export * from '@/lib/statistics/normal';
export * from '@/lib/statistics/theil-sen';
export * from '@/lib/statistics/trend';
