// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

import java.util.concurrent.Callable;

/** What a command would read. */
final class StatedCommand implements Callable<Double> {
  @Override
  public Double call() {
    return new Stated(1, 2).asked();
  }
}
