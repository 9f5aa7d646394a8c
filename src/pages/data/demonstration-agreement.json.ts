import { agreementText } from '../../../calculators/criteria/agreement.ts';
import { demonstration } from '../../clinic.ts';

export const GET = () => new Response(demonstration ? agreementText(demonstration) : 'null');
