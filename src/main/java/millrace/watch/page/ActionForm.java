// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.function.Consumer;
import millrace.report.markup.Markup;

/**
 * Something that a person may ask for: folded, with words that say what will be done before the
 * button that does it. It works without script, too.
 *
 * @param what its word in the form, one of a few
 * @param name what is clicked to unfold it
 * @param words what will be done
 * @param button what is pressed
 */
public record ActionForm(String what, String name, String words, String button) {

  /**
   * Writes it.
   *
   * @param out the page
   * @param path where it is posted
   * @param token what changes must bring along
   * @param fields what else is asked for
   */
  public void write(Markup out, String path, String token, Consumer<Markup> fields) {
    out.line().open("details", "class", "act " + what, "data-act", what);
    out.element("summary", name);
    out.open("form", "method", "post", "action", path);
    out.lone("input", "type", "hidden", "name", "page-token", "value", token);
    out.lone("input", "type", "hidden", "name", "what", "value", what);
    out.element("p", words);
    fields.accept(out);
    out.element("button", button, "type", "submit");
    out.close().close();
  }
}
