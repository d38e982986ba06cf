-- For `make lint`. 581, 582: not (x > 0) is meant, for NaN.
std = "lua54"
max_line_length = false
ignore = { "581", "582" }
exclude_files = { "tests/unit/starved.lua" } -- each line is a script of its own
files["tests"] = { ignore = { "311", "431" } } -- out, err, code again and again
files["tests/data"] = { read_globals = { "row", "source" } }
files["docs"] = { read_globals = { "hf" } }
