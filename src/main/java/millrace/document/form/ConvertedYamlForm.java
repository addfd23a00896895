// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Supplier;
import millrace.document.yaml.Node;
import millrace.fault.FilePlace;
import millrace.fault.InputFaultList;

/** A form with a conversion of its value. */
record ConvertedYamlForm<S, T>(
    YamlForm<S> form, BiFunction<FilePlace, S, T> make, Supplier<T> sampled)
    implements YamlForm<T> {

  @Override
  public String inWords() {
    return form.inWords();
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    return form.read(node, faults).flatMap(value -> made(node, value, faults));
  }

  private Optional<T> made(Node node, S value, InputFaultList faults) {
    try {
      return Optional.of(make.apply(node.place(), value));
    } catch (IllegalArgumentException e) {
      faults.add(FormRefusalException.of(e, node.place()));
      return Optional.empty();
    }
  }

  @Override
  public T sample() {
    return sampled.get();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return form.schema(defs);
  }
}
