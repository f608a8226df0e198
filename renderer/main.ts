import '@fontsource-variable/source-sans-3/wght.css'
import { mount } from 'svelte'
import App from './App.svelte'

const target = document.getElementById('app')
if (target === null) throw new Error('The page has no place for the app.')
mount(App, { target })
