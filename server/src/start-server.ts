/** The entry of the server's own bundle. */
import { serve } from './main-node';

serve();
