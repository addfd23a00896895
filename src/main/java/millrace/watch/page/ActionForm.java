// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.function.Consumer;
import millrace.report.markup.Markup;

/**
 * A request form: folded, with a sentence on its effect before the button. It also works without
 * script.
 *
 * @param what the word of the request in the form, one of a few
 * @param name the text to click to unfold it
 * @param words the effect in words
 * @param button the text of the button
 */
public record ActionForm(String what, String name, String words, String button) {

  /**
   * Writes the form.
   *
   * @param out the page
   * @param path the path it is posted to
   * @param token the token that changes must carry
   * @param fields the other fields
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
