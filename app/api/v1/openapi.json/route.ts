import { connection } from 'next/server';
import { environment } from '@/app/_environment';
import { openApiDocument } from '../_openapi';

/** What the routes take and give; it says nothing of the fleet, and is open to all. */
export async function GET(): Promise<Response> {
  await connection();
  return Response.json(openApiDocument(environment().origin));
}
