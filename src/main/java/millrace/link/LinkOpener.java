// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.util.function.Function;

/** Makes the link to an address: to the instrument itself, or to a recording of it. */
public interface LinkOpener {
  /**
   * Gives the link; nothing is opened before it is used.
   *
   * @param address where
   * @return the link, with the usual framing and timing
   */
  Link open(LinkAddress address);

  /**
   * Links to the instruments themselves.
   *
   * @param recorders the recorder for each address; {@link LinkRecorder#NONE} to keep nothing
   * @return the opener
   */
  static LinkOpener recording(Function<LinkAddress, LinkRecorder> recorders) {
    return address ->
        new Link(address, Framing.LINES, LinkTimeouts.DEFAULT, recorders.apply(address));
  }
}
