#!/bin/sh
# Makes curves.csv from the netlists in this folder with ngspice (39.3 of Debian 12 was used):
#   ./curves.sh > curves.csv
# Each circuit's load is a voltage source that is swept over the terminal voltage, at temperatures
# from 5 to 50 degC; the current through it is what the unit gives, as far as it is a current source.
set -e
here=$(dirname "$0")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
run() { # circuit, nominal current in A, last voltage, step
  for t in 5 7.5 10 12.5 15 17.5 20 23 25.5 28 30.5 33 35.5 38 40.5 43 45.5 48 50; do
    {
      cat "$here/$1.cir"
      echo ".temp $t"
      echo ".control"
      echo "set numdgt=15"
      echo "dc Vload 0 $3 $4"
      echo "print col i(Vload)"
      echo ".endc"
      echo ".end"
    } > "$work/run.cir"
    ngspice -b "$work/run.cir" 2> "$work/errors" |
      awk -v c="$1" -v n="$2" -v t="$t" 'NF == 3 && $1 ~ /^[0-9]+$/ && $3 > 0.3 * n { printf "%s,%s,%s,%.5g,%.12e\n", c, n, t, $2, $3 }'
  done
}
echo "circuit,nominal_A,temperature_degC,terminal_voltage_V,current_A"
run bipolar 1e-3 13.2 0.3
run darlington 1e-2 19.6 0.4
run insulated-gate 1e-4 14.4 0.3
run junction-gate 1e-3 16.2 0.3
run leaky 1e-6 12.9 0.3
run low-supply 1e-5 4 0.1
