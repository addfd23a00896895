// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.List;

/** A page that explains why a request got no other page. Stateless. */
public final class MessagePage {
  private MessagePage() {}

  /**
   * Writes the page.
   *
   * @param answer in a few words
   * @param what the advice, a sentence
   * @return a whole page
   */
  public static String of(String answer, String what) {
    return PageFrame.page(
        new PageFrame.Head(answer, false, List.of()),
        out -> out.element("h1", answer).element("p", what));
  }
}
