import { agreementText } from '../../../calculators/agreement/agreement.ts';
import { demonstration } from '../../clinic.ts';

export const GET = () => new Response(demonstration ? agreementText(demonstration) : 'null');
