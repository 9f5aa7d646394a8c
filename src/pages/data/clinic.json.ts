/** The agreement built into this copy of the site; `null` where there is none. */
import { clinic } from '../../agreement/built-in.ts';

export const GET = () => new Response(JSON.stringify(clinic ?? null));
