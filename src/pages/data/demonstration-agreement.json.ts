import { agreementText } from '../../../calculators/agreement/agreement.ts';
import { demonstration } from '../../agreement/built-in.ts';

export const GET = () => new Response(demonstration ? agreementText(demonstration) : 'null');
