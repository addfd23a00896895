// SPDX-License-Identifier: Apache-2.0
/**
 * The content of the pages, as HTML; read {@link millrace.watch.page.RunPieces} first. It knows
 * nothing of the client: no request, no address, no socket.
 */
@NullMarked
package millrace.watch.page;

import org.jspecify.annotations.NullMarked;
