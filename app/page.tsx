import { redirect } from 'next/navigation';
import { requireSignIn } from './_session';
import { firstViewOf } from './_shell';

export default async function Home(): Promise<never> {
  redirect(firstViewOf((await requireSignIn()).role));
}
