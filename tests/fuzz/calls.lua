-- Writes a C file that calls every public function whose arguments are numbers, lists, texts, sets or plain
-- outputs, from the declarations themselves. What takes objects must be called by name in one of the
-- harnesses; a function that is called nowhere fails a check of tests/run.sh.
--   lua5.4 tests/fuzz/calls.lua OUT.c include/hairfibre/*.h -- tests/fuzz/fuzz_*.c

local out_path = assert(arg[1], "usage: calls.lua OUT.c HEADER... -- HARNESS.c...")
local headers, harnesses = {}, ""
local list = headers
for i = 2, #arg do
  if arg[i] == "--" then
    list = nil
  elseif list then
    list[#list + 1] = arg[i]
  else
    local file = assert(io.open(arg[i]))
    harnesses = harnesses .. file:read("a")
    file:close()
  end
end

-- Outputs that hold a number for each element.
local per_element = { hf_holm_e = true }
-- Arguments for which NaN means "not given".
local may_be_nan = { ["hf_life_fit.fixed_shape"] = true,
  ["hf_channel_rate_e.regain"] = true } -- read by one of the channels alone
-- Their answers may be infinite: "what has no bound is infinite".
local open_room = { statistics = true, inference = true, uncertainty = true }
-- Outputs that are written on failure too.
local on_failure = { message = true, bad = true }

local structs, enums = {}, {}
local declarations = {}
for _, path in ipairs(headers) do
  local file = assert(io.open(path))
  local text = file:read("a"):gsub("/%*.-%*/", " "):gsub("\\\n", " "):gsub("\n#[^\n]*", "")
  file:close()
  for name in text:gmatch("typedef struct (hf_[%w_]+) {") do
    structs[name] = true
  end
  for name in text:gmatch("typedef enum (hf_[%w_]+) {") do
    enums[name] = true
  end
  local room = path:match("([%w_]+)%.h$")
  for declaration in text:gmatch("HF_API%s(.-);") do
    declaration = declaration:gsub("HF_MUST_CHECK", ""):gsub("%s+", " ")
    local returns, name, arguments = declaration:match("^(.-)%s?(hf_[%w_]+)%s?%((.*)%)%s*$")
    if name then
      declarations[#declarations + 1] = { returns = returns:gsub("%s", ""), name = name, room = room,
        arguments = arguments }
    end
  end
end

local function split(arguments)
  local parts = {}
  for part in arguments:gmatch("[^,]+") do
    part = part:match("^%s*(.-)%s*$")
    if part ~= "void" then
      local kind, name = part:match("^(.-)%s*([%a_][%w_]*)$")
      if not kind or part:find("%[") then
        kind, name = part, "?"
      end
      parts[#parts + 1] = { kind = kind:gsub("%s*%*", " *"), name = name }
    end
  end
  return parts
end

local RETURNS = { hf_status = true, double = true, size_t = true, int = true, ["constchar*"] = true }

-- Statements that make one argument, and the words that pass it; nil when it is beyond this generator.
local function argument(f, parts, i)
  local a, id = parts[i], "a" .. i
  local kind = a.kind
  local struct = kind:match("^(hf_[%w_]+) %*$")
  if kind == "double" then
    return ("double %s = fz_double(r);"):format(id), id
  elseif kind == "long" or kind == "int" or kind == "unsigned" or kind == "size_t" then
    local after = parts[i + 1] and parts[i + 1].kind
    if kind == "size_t" and after and (after == "const double *" or after == "const int *" or after == "const hf_table *") then
      f.length = id
      return ("const size_t %s = fz_length(r);"):format(id), id
    elseif kind == "unsigned" and a.name == "flags" then
      f.flags = id
      return ("const unsigned %s = fz_byte(r) & 1u;"):format(id), id
    end
    return ("const %s %s = (%s)fz_long(r);"):format(kind, id, kind), id
  elseif enums[kind] then
    return ("const %s %s = (%s)((int)fz_byte(r) %% 20 - 1);"):format(kind, id, kind), id
  elseif kind == "const hf_parameters *" then
    return ("const hf_parameters *%s = fz_set(r);"):format(id), id
  elseif kind == "const char *" then
    return ("char %s[24]; text_of(r, %s);"):format(id, id), id
  elseif kind == "const double *" and f.length then
    return ("double %s[FZ_LIST_MAX]; fz_list(r, %s, %s);"):format(id, f.length, id), id
  elseif kind == "const int *" and f.length then
    return ("int %s[FZ_LIST_MAX]; ints_of(r, %s, %s);"):format(id, f.length, id), id
  elseif kind == "const hf_table *" then
    return ("hf_table %s[FZ_LIST_MAX + 1]; tables_of(r, %s, %s);"):format(id, f.length or "1", id), id
  elseif kind == "hf_message *" then
    return ("hf_message %s = {\"\"};"):format(id), "&" .. id
  elseif kind == "double *" and (f.name:find("_v$") or per_element[f.name]) then
    return ("double %s[FZ_LIST_MAX + 1]; fz_poison(%s, sizeof %s);"):format(id, id, id), id,
      { id = id, array = true, name = a.name }
  elseif kind == "double *" or kind == "size_t *" or kind == "long *" or (struct and (structs[struct] or enums[struct])) then
    local type_name = kind:gsub(" %*$", "")
    return ("%s %s; fz_poison(&%s, sizeof %s);"):format(type_name, id, id, id), "&" .. id,
      { id = id, number = type_name == "double", struct = struct, name = a.name }
  end
end

local file = assert(io.open(out_path, "w"))
local function write(...)
  file:write(string.format(...))
end

local made, missing = {}, {}
local by_name = {}
for _, d in ipairs(declarations) do
  by_name[d.name] = d
end

write('/* Generated by tests/fuzz/calls.lua. */\n#include "calls.h"\n#include <math.h>\n#include <string.h>\n\n')
for _, d in ipairs(declarations) do
  local f = { name = d.name }
  local parts, lines, words, outputs, doubles = split(d.arguments), {}, {}, {}, {}
  local fits = RETURNS[d.returns] or d.returns:find("^consthf_[%w_]+%*$")
  for i, a in ipairs(parts) do
    local line, word, output = argument(f, parts, i)
    if not line then
      fits = false
      break
    end
    lines[#lines + 1], words[#words + 1], outputs[#outputs + 1] = line, word, output
    if a.kind == "double" and not may_be_nan[d.name .. "." .. a.name] then
      doubles[#doubles + 1] = "!isfinite(a" .. i .. ")"
    end
  end
  if not fits then
    if not harnesses:find(d.name .. "%f[^%w_]%s*%(") then
      missing[#missing + 1] = d.name
    end
  else
    local call = ("%s(%s)"):format(d.name, table.concat(words, ", "))
    made[#made + 1] = d.name
    write("static void call_%s(fz_reader *r)\n{\n    (void)r;\n    %s\n", d.name, table.concat(lines, "\n    "))
    if d.returns == "hf_status" then
      write("    const hf_status s = %s;\n    fz_check_status(\"%s\", s);\n", call, d.name)
      if f.flags then
        write("    if (s == HF_EXTRAPOLATED && !%s)\n        fz_fail(\"%s: extrapolated though strict\");\n", f.flags, d.name)
      end
      if #doubles > 0 then
        -- an empty list has no answer to be wrong
        write("    if (!hf_failed(s)%s && (%s))\n        fz_fail(\"%s: an answer from what is not finite\");\n",
          f.length and " && " .. f.length .. " > 0" or "", table.concat(doubles, " || "), d.name)
      end
      for _, o in ipairs(outputs) do
        if not on_failure[o.name] and not (f.name:find("_v$")) then
          write("    if (hf_failed(s) && !fz_poisoned(&%s, sizeof %s))\n        fz_fail(\"%s: failed, but wrote *%s\");\n",
            o.id, o.id, d.name, o.name)
        end
        if o.number then
          write("    if (!hf_failed(s))\n        fz_check_number(\"%s\", %s, %d);\n", d.name, o.id, open_room[d.room] and 1 or 0)
        elseif o.array then
          write("    for (size_t i = 0; !hf_failed(s) && i < %s; i++)\n        fz_check_number(\"%s\", %s[i], %d);\n",
            f.length, d.name, o.id, open_room[d.room] and 1 or 0)
        end
      end
      -- the short twin: a number exactly when the strict form succeeds
      local twin = by_name[d.name:gsub("_e$", "")]
      if twin and twin ~= d and twin.returns == "double" then
        local kept, last = {}, nil
        for i, a in ipairs(parts) do
          if a.name ~= "flags" and i < #parts then
            kept[#kept + 1] = words[i]
          end
          last = "a" .. i
        end
        write("    const double x = %s(%s);\n", twin.name, table.concat(kept, ", "))
        write("    if (%s(hf_failed(s) ? !isnan(x) : x != %s))\n        fz_fail(\"%s: %%g, with status \\\"%%s\\\" %%g\", x, hf_status_code(s), %s);\n",
          f.flags and ("!" .. f.flags .. " && ") or "", last, twin.name, last)
      end
    elseif d.returns == "constchar*" then
      write("    const char *text = %s;\n    if (text && strlen(text) > 4000)\n        fz_fail(\"%s: a long text\");\n", call, d.name)
    else
      write("    (void)%s;\n", call)
    end
    write("}\n\n")
  end
end
write("const fz_call fz_calls[] = {\n")
for _, name in ipairs(made) do
  write("    {\"%s\", call_%s},\n", name, name)
end
write("};\nconst size_t fz_call_count = sizeof fz_calls / sizeof *fz_calls;\n")
file:close()

print(("%d functions are called by the generated file, %d by the harnesses"):format(#made,
  #declarations - #made - #missing))
if #missing > 0 then
  print("no harness in tests/fuzz calls " .. table.concat(missing, ", "))
end
print(("%d passed, %d failed"):format(#missing == 0 and 1 or 0, #missing))
