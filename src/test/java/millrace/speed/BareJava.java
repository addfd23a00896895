// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

/** The least that a virtual machine can do: what a start is measured against. */
final class BareJava {
  private BareJava() {}

  public static void main(String[] args) {
    System.out.println("hello");
  }
}
