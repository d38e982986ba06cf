#!/bin/sh
# The machine that ran a benchmark, without its name: key, tab, value.
say() { printf '%s\t%s\n' "$1" "$2"; }
version() { dpkg-query -W -f='${Version}' "$1" 2>/dev/null || echo "not installed"; }
say Processor "$(sed -n 's/^model name[^:]*: //p' /proc/cpuinfo | head -n 1), $(nproc) threads"
say Memory "$(awk '/^MemTotal/ { printf "%.1f GB", $2 / 1e6 }' /proc/meminfo)"
say System "$(. /etc/os-release && echo "$PRETTY_NAME"), Linux $(uname -r | cut -d. -f1,2)"
say Compiler "$(${CC:-cc} --version | head -n 1)"
say Flags "${BENCH_FLAGS:-}"
say "GNU C library" "$(version libc6)"
say GSL "$(version libgsl-dev)"
say Lua "$(version lua5.4)"
say "python3-iapws" "$(version python3-iapws)"
say SciPy "$(version python3-scipy)"
say R "$(version r-base-core)"
say "Load at the end" "$(cut -d' ' -f1 /proc/loadavg) (1 is one busy thread; this benchmark alone makes 1 to 2)"
