// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.Map;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.quantity.Dimension;

/** How a command with placeholders is written in a driver file. */
final class TemplateForms {
  private TemplateForms() {}

  /**
   * A command.
   *
   * @param known the placeholders that it may have, with what they stand for
   */
  static Form<Template> command(Map<String, Dimension> known) {
    return Forms.map(Forms.text("a command"), text -> Template.parse(text, known));
  }
}
