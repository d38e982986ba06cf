# Completion of hairfibre for bash: source this file, or install it as bash-completion's "hairfibre".
_hairfibre() {
    local IFS=$'\n' words
    # NAME=VALUE is one word for hairfibre; bash splits at "=".
    words=("${COMP_WORDS[@]:1:COMP_CWORD}")
    [[ ${words[-1]} == "=" || ${words[-2]:-} == "=" ]] && return
    COMPREPLY=($(hairfibre complete "${words[@]}" 2>/dev/null))
    if ((${#COMPREPLY[@]} == 0)); then
        COMPREPLY=($(compgen -f -- "${words[-1]}"))
        compopt -o filenames
    elif [[ ${COMPREPLY[0]} == *= ]]; then
        compopt -o nospace
    fi
}
complete -F _hairfibre hairfibre
