import { auth } from '@/app/_auth';

const answer = async (request: Request) => (await auth()).handler(request);

export { answer as GET, answer as POST };
