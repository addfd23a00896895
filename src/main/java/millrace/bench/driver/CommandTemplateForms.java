// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.Map;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.quantity.Dimension;

/** How a command with placeholders is written in a driver file. */
final class CommandTemplateForms {
  private CommandTemplateForms() {}

  /**
   * A command.
   *
   * @param known the placeholders that it may have, with what they stand for
   */
  static YamlForm<CommandTemplate> command(Map<String, Dimension> known) {
    return YamlForms.map(YamlForms.text("a command"), text -> CommandTemplate.parse(text, known));
  }
}
