# Completion of hairfibre for fish: put this file in ~/.config/fish/completions or the system's folder.
function __hairfibre_candidates
    set -l words (commandline -opc) (commandline -ct)
    hairfibre complete $words[2..-1] 2>/dev/null
end
complete -c hairfibre -a '(__hairfibre_candidates)'
