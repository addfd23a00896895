// SPDX-License-Identifier: Apache-2.0
/**
 * YAML as people write it, with the place of everything and guards against hostile input. Read
 * {@link millrace.document.yaml.YamlFile} first. Knows nothing of what files mean. Nodes are
 * immutable.
 */
@NullMarked
package millrace.document.yaml;

import org.jspecify.annotations.NullMarked;
