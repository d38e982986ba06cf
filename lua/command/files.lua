-- Where a script may read and write: the guard of hairfibre.files, through which all files of the
-- library go.

local system = require "command.system"

local files = {}

--- Folder of a path: "a/b.lua" -> "a", "b.lua" -> ".".
function files.folder_of(path)
  local folder = path:match("^(.*)/[^/]*$")
  return folder == "" and "/" or folder or "."
end

local function is_inside(path, folder)
  return path == folder or path:sub(1, #folder + 1) == (folder == "/" and "/" or folder .. "/")
end

local verbs = { read = "reads", write = "writes" }

-- The place of a relative name below `folder`, or nil and a sentence. Symbolic links are followed, so
-- a link cannot lead out.
local function place_inside(mode, name, folder)
  local function refuse(why)
    return nil, ("cannot %s %s: %s"):format(mode, name, why)
  end
  if name:sub(1, 1) == "/" or ("/" .. name .. "/"):find("/../", 1, true) then
    return refuse(("a sandboxed script %s below its folder only (--trust lifts this)"):format(
      verbs[mode]))
  end
  local place = folder .. "/" .. name
  local root, why = system.real_path(folder)
  local above = root and system.real_path(files.folder_of(place))
  if not root then
    return refuse(why)
  elseif not above then
    return refuse("there is no such folder")
  elseif not is_inside(above, root) then
    return refuse("a link leads out of the folder of the script")
  end
  local target = system.real_path(place)
  if target and not is_inside(target, root) then
    return refuse("a link leads out of the folder of the script")
  elseif not target and mode == "write" and system.is_link(place) then
    return refuse("it is a link that leads nowhere")
  end
  return place
end

--- Sends what the library writes to `out` (made at the first write), and lets a script that is not
--- trusted read below `home` only.
function files.guard(options)
  local made = false
  require("hairfibre.files").set_guard(function(mode, path)
    if options.trusted and (mode == "read" or path:sub(1, 1) == "/") then
      return path
    elseif mode == "read" then
      return place_inside(mode, path, options.home)
    elseif not made then
      local done, why = system.make_folder(options.out)
      if not done then
        return nil, ("cannot make the folder %s: %s"):format(options.out, why)
      end
      made = true
    end
    if options.trusted then
      return options.out .. "/" .. path
    end
    return place_inside(mode, path, options.out)
  end)
end

return files
