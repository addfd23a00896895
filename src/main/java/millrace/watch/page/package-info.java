// SPDX-License-Identifier: Apache-2.0
/**
 * What the pages show, as HTML; read {@link millrace.watch.page.RunPieces} first. It knows nothing
 * of who asks: no request, no address, no socket.
 */
@NullMarked
package millrace.watch.page;

import org.jspecify.annotations.NullMarked;
