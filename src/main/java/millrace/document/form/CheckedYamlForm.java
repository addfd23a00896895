// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** A form with one more demand. */
record CheckedYamlForm<T>(YamlForm<T> form, Predicate<T> demand, String inWords)
    implements YamlForm<T> {

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    Optional<T> value = form.read(node, faults);
    if (value.isPresent() && !demand.test(value.get())) {
      faults.add(node.place(), node.inWords() + " is out of range", inWords);
      return Optional.empty();
    }
    return value;
  }

  @Override
  public T sample() {
    return form.sample();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return form.schema(defs);
  }
}
