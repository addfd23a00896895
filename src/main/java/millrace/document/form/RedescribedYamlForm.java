// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** A form with other words and another schema. */
record RedescribedYamlForm<T>(YamlForm<T> form, String inWords, Map<String, Object> rule)
    implements YamlForm<T> {
  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    return form.read(node, faults);
  }

  @Override
  public T sample() {
    return form.sample();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return rule;
  }
}
