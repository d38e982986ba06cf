-- Builds from the checkout it lies in, without a network: luarocks make docs/packaging/hairfibre-0.1.0-1.rockspec
rockspec_format = "3.0"
package = "hairfibre"
version = "0.1.0-1"
source = { url = "file://." }
description = {
  summary = "Property models of hair fibres, with sources",
  license = "GPL-3.0-or-later",
}
dependencies = { "lua == 5.4" }
external_dependencies = {
  GSL = { header = "gsl/gsl_math.h" },
  UDUNITS2 = { header = "udunits2.h" },
  CSV = { header = "csv.h" },
  NETTLE = { header = "nettle/sha2.h" },
}
build = {
  type = "make",
  build_target = "build/hairfibre.so",
  install_target = "install-lua",
  install_variables = { luadir = "$(LIBDIR)" },
}
