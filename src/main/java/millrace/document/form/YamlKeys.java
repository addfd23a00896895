// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Optional;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;

/**
 * The keys of one map in a file. What makes a value of the map asks for each key where it needs
 * what stands there, so that a key with its form and its words is written in one place; see {@link
 * YamlMapForm}. Single-threaded.
 */
public abstract class YamlKeys {
  YamlKeys() {}

  /** What stands under a key; empty if nothing does, which a required key never is. */
  abstract <V> Optional<V> find(String name, YamlForm<V> form, String doc, boolean required);

  /**
   * Where the map stands.
   *
   * @return the place of its first character
   */
  public abstract FilePlace place();

  /**
   * A key that must be there.
   *
   * @param name the key
   * @param form what stands under it
   * @param doc what it means, for messages and the schema
   * @param <V> what is read
   * @return what stands under it
   */
  public final <V> V required(String name, YamlForm<V> form, String doc) {
    return find(name, form, doc, true).orElseThrow();
  }

  /**
   * A key with a quantity that must be there.
   *
   * @param name the key
   * @param kind the kind of quantity
   * @param doc what it means, for messages and the schema
   * @return what stands under it, in base units
   */
  public final double required(String name, Dimension kind, String doc) {
    return required(name, YamlForms.quantity(kind), doc);
  }

  /**
   * A key that may be left out.
   *
   * @param name the key
   * @param form what stands under it
   * @param doc what it means, for the schema
   * @param <V> what is read
   * @return what stands under it; empty if it is left out
   */
  public final <V> Optional<V> optional(String name, YamlForm<V> form, String doc) {
    return find(name, form, doc, false);
  }

  /**
   * A key with a quantity that may be left out.
   *
   * @param name the key
   * @param kind the kind of quantity
   * @param doc what it means, for the schema
   * @return what stands under it, in base units; empty if it is left out
   */
  public final Optional<Double> optional(String name, Dimension kind, String doc) {
    return optional(name, YamlForms.quantity(kind), doc);
  }

  /**
   * A key that may be left out, with what then counts.
   *
   * @param name the key
   * @param form what stands under it
   * @param otherwise what counts if it is left out
   * @param doc what it means, for the schema; should name the default
   * @param <V> what is read
   * @return what counts
   */
  public final <V> V optional(String name, YamlForm<V> form, V otherwise, String doc) {
    return optional(name, form, doc).orElse(otherwise);
  }

  /**
   * A key with a quantity that may be left out, with what then counts.
   *
   * @param name the key
   * @param kind the kind of quantity
   * @param otherwise what counts if it is left out, in base units
   * @param doc what it means, for the schema; should name the default
   * @return what counts, in base units
   */
  public final double optional(String name, Dimension kind, double otherwise, String doc) {
    return optional(name, kind, doc).orElse(otherwise);
  }
}
