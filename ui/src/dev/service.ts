/** Services for tests and the harness. */
import type { Service } from '../api/types';

/** The service of today's way. */
export const asToday: Service = {
  water: 'as-today',
  water_delta_m3: 0,
  worst_month_delta_m3: 0,
  water_in_outages: 'as-today',
  water_in_outages_delta_m3: 0,
  loads: 'as-today',
  load_delta_kwh: 0,
  comparable: true,
};

/** 50 m³ less than today in the year. */
export const less: Service = {
  ...asToday,
  water: 'less',
  water_delta_m3: -50,
  worst_month_delta_m3: -9,
  comparable: false,
};
