// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.Words;
import millrace.document.yaml.Node;
import millrace.fault.Fault;
import millrace.fault.Faults;

/** A map whose kind is told by the word under one key. */
record WordVariantForm<T>(String inWords, String key, Map<String, Form<? extends T>> variants)
    implements Form<T> {

  WordVariantForm {
    variants = new LinkedHashMap<>(variants);
  }

  @Override
  public Optional<T> read(Node node, Faults faults) {
    if (!(node instanceof Node.Entries entries)) {
      Shapes.wrong(node, inWords + " with the key '" + key + "'", faults);
      return Optional.empty();
    }
    Optional<Node.Entry> entry = entries.find(key);
    if (entry.isEmpty() || !(entry.get().value() instanceof Node.Scalar word)) {
      faults.add(
          entries.place(),
          inWords + " without '" + key + ": ...'",
          key + ": " + Words.oneOf(variants.keySet()));
      return Optional.empty();
    }
    Form<? extends T> form = variants.get(word.text());
    if (form == null) {
      faults.add(
          new Fault(
              word.place(),
              word.inWords() + " is not known as " + key,
              Words.oneOf(variants.keySet()),
              Words.didYouMean(word.text(), variants.keySet())));
      return Optional.empty();
    }
    return form.read(node, faults).map(v -> v);
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    List<Map<String, Object>> all = variants.values().stream().map(f -> f.schema(defs)).toList();
    return Map.of("anyOf", all);
  }
}
