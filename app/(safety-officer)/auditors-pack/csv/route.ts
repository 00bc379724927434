import { packCsv } from '@/lib/outflow/pack/pack-csv';
import { csvResponse } from '../../csv-response';
import { makePack } from '../make-pack';

/** The auditor's pack as one file of comma-separated values. */
export async function GET(request: Request): Promise<Response> {
  const made = await makePack(new URL(request.url));
  return csvResponse(`${made.fileName}.csv`, packCsv(made.pack));
}
