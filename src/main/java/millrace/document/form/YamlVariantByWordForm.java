// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.document.yaml.Node;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;

/** A map with its kind given by the word under one key. */
record YamlVariantByWordForm<T>(
    String inWords, String key, Map<String, YamlForm<? extends T>> variants)
    implements YamlForm<T> {

  YamlVariantByWordForm {
    variants = new LinkedHashMap<>(variants);
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    if (!(node instanceof Node.Entries entries)) {
      YamlNodeShapes.wrong(node, inWords + " with the key '" + key + "'", faults);
      return Optional.empty();
    }
    Optional<Node.Entry> entry = entries.find(key);
    if (entry.isEmpty() || !(entry.get().value() instanceof Node.Scalar word)) {
      faults.add(
          entries.place(),
          inWords + " without '" + key + ": ...'",
          key + ": " + FileMessageText.oneOf(variants.keySet()));
      return Optional.empty();
    }
    YamlForm<? extends T> form = variants.get(word.text());
    if (form == null) {
      faults.add(
          new InputFault(
              word.place(),
              word.inWords() + " is not known as " + key,
              FileMessageText.oneOf(variants.keySet()),
              FileMessageText.didYouMean(word.text(), variants.keySet())));
      return Optional.empty();
    }
    return form.read(node, faults).map(v -> v);
  }

  @Override
  public T sample() {
    return variants.values().iterator().next().sample();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    List<Map<String, Object>> all = variants.values().stream().map(f -> f.schema(defs)).toList();
    return Map.of("anyOf", all);
  }
}
